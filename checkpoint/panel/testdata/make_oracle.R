# Writes the oracle tables of this folder with R and its packages.
# Run: Rscript make_oracle.R
suppressMessages({library(psyphy); library(psych)})
head <- function(file, columns, tools) cat("# ", R.version.string, "; ", tools, "; columns ", columns, "\n", sep = "", file = file)
put <- function(file, ...) cat(paste(..., sep = ","), "\n", sep = "", file = file, append = TRUE)
num <- function(x) formatC(x, digits = 17, format = "g")
ver <- function(p) paste(p, packageVersion(p))

# Discrimination: tails, intervals, powers by base R's binomial functions.
f <- "binom_tests.csv"
head(f, "chance,n,x,upper,clopper_lower,clopper_upper,two_sided", "stats::pbinom, binom.test")
for (p0 in c(1/3, 1/2)) for (n in c(1, 6, 12, 24, 33, 60, 240, 3000)) for (x in unique(pmin(n, c(0, 1, round(n * p0), round(n * p0) + 3, round(0.75 * n), n)))) {
  ci <- binom.test(x, n, p0)$conf.int
  put(f, num(p0), n, x, num(pbinom(x - 1, n, p0, lower.tail = FALSE)), num(ci[1]), num(ci[2]), num(binom.test(x, n, 0.5)$p.value))
}
f <- "power.csv"
head(f, "chance,n,alpha,pc,critical,power,alike", "stats::qbinom, pbinom")
for (p0 in c(1/3, 1/2)) for (n in c(6, 15, 36, 60, 100, 318, 2000)) for (a in c(0.001, 0.01, 0.05, 0.2)) for (pd in c(0.1, 0.3, 0.5)) {
  pc <- p0 + pd * (1 - p0)
  crit <- qbinom(1 - a, n, p0) + 1
  while (pbinom(crit - 2, n, p0, lower.tail = FALSE) <= a) crit <- crit - 1
  while (pbinom(crit - 1, n, p0, lower.tail = FALSE) > a) crit <- crit + 1
  alike <- -1
  while (pbinom(alike + 1, n, pc) <= a) alike <- alike + 1
  put(f, num(p0), n, num(a), num(pc), crit, num(pbinom(crit - 1, n, pc, lower.tail = FALSE)), alike)
}

# Smallest and stable panels, by search over every n.
f <- "panels.csv"
head(f, "chance,alpha,power,pc,smallest,stable", "stats::pbinom over n = 1 to 2500")
power <- function(n, p0, a, pc) { x <- 0:(n + 1); crit <- x[match(TRUE, pbinom(x - 1, n, p0, lower.tail = FALSE) <= a)]; pbinom(crit - 1, n, pc, lower.tail = FALSE) }
for (p0 in c(1/3, 1/2)) for (a in c(0.01, 0.05)) for (pw in c(0.8, 0.95)) for (pd in c(0.15, 0.3, 0.6)) {
  pc <- p0 + pd * (1 - p0)
  ok <- sapply(1:2500, power, p0 = p0, a = a, pc = pc) >= pw
  put(f, num(p0), num(a), num(pw), num(pc), which(ok)[1], max(which(!ok)) + 1)
}

# Thurstone: base R's quadrature of the published integrals; psyphy inverts.
f <- "thurstone.csv"
head(f, "method,d,pc", "stats::integrate of the published integrals")
phi <- dnorm; Phi <- pnorm
int <- function(g, lo = -Inf) integrate(g, lo, Inf, rel.tol = 1e-13, abs.tol = 0, subdivisions = 2000)$value
for (d in c(0, 0.05, 0.3, 0.9, 1, 1.7, 2.5, 3.3, 5, 7)) {
  put(f, "triangle", d, num(2 * int(function(u) (Phi(-u * sqrt(3) + d * sqrt(2/3)) + Phi(-u * sqrt(3) - d * sqrt(2/3))) * phi(u), 0)))
  put(f, "duo-trio", d, num(1 - Phi(d/sqrt(2)) - Phi(d/sqrt(6)) + 2 * Phi(d/sqrt(2)) * Phi(d/sqrt(6))))
  put(f, "paired", d, num(int(function(u) phi(u - d) * Phi(u))))
  put(f, "3-AFC", d, num(int(function(u) phi(u - d) * Phi(u)^2)))
  put(f, "tetrad", d, num(1 - 2 * int(function(u) phi(u) * (2 * Phi(u) * Phi(u - d) - Phi(u - d)^2))))
}
f <- "psyphy.csv"
head(f, "method,pc,d", ver("psyphy"))
for (pc in c(0.5, 0.6, 0.75, 0.9)) {
  put(f, "paired", pc, num(dprime.mAFC(pc, 2)))
  put(f, "3-AFC", pc, num(dprime.mAFC(pc, 3)))
}
for (pc in c(0.4, 0.5, 0.6, 0.75, 0.9)) put(f, "triangle", pc, num(dprime.oddity(pc)))

# Agreement.
tables <- list(
  rbind(c(9,2,5,8), c(6,1,3,2), c(8,4,6,8), c(7,1,2,6), c(10,5,6,9), c(6,2,4,7)),
  rbind(c(84.25,83.5,85), c(86,85.75,86.5), c(81.5,82,82.25), c(87.75,86.5,88), c(84,83.25,83.5)),
  rbind(c(80,81), c(84,83.5), c(82,84)),
  rbind(c(83,85,81,84,86), c(84,82,85,83,84), c(85,84,82,86,83)))
f <- "icc.csv"
head(f, "table,form,value,lower,upper at 95 %", paste(ver("psych"), "ICC(lmer = FALSE)"))
for (i in seq_along(tables)) {
  r <- suppressWarnings(ICC(tables[[i]], lmer = FALSE)$results)
  for (k in 1:6) put(f, i - 1, r$type[k], num(r$ICC[k]), num(r[k, "lower bound"]), num(r[k, "upper bound"]))
}
f <- "tables.csv"
head(f, "table,rows of scores", "the tables above, and of the rank tests")
for (t in tables) put(f, paste(apply(t, 1, paste, collapse = " "), collapse = " | "))

# Rank tests, with ties, by friedman.test (which wants tasters in rows).
f <- "friedman.csv"
head(f, "table,statistic,df,p by chi-squared", "stats::friedman.test")
for (i in seq_along(tables)) { r <- friedman.test(t(tables[[i]])); put(f, i - 1, num(r$statistic), r$parameter, num(r$p.value)) }

# Offsets and coffee means by the two-way linear model.
f <- "offsets.csv"
head(f, "table,taster,offset,half-width at 95 %", "stats::lm with sum contrasts, confint")
for (i in seq_along(tables)) {
  t <- tables[[i]]; k <- ncol(t)
  d <- data.frame(y = c(t), coffee = factor(c(row(t))), taster = factor(c(col(t))))
  m <- lm(y ~ coffee + taster, d, contrasts = list(coffee = contr.sum, taster = contr.sum))
  ci <- confint(m)
  for (j in 1:(k - 1)) { n <- paste0("taster", j); put(f, i - 1, j - 1, num(coef(m)[n]), num((ci[n, 2] - ci[n, 1]) / 2)) }
}

# A score over weeks: lm, and the crossing by finding the root of its own
# confidence band.
weeks <- list(list(c(0, 4, 8, 12, 16, 20, 26), c(87, 86.5, 86.75, 86, 85.25, 85.5, 84.5)),
              list(c(0, 2, 5, 9, 10, 15), c(85, 84.8, 84.1, 83.9, 83.2, 82.8)))
f <- "weeks.csv"
head(f, "series,threshold,confidence,slope,slope half-width,score at 10,half-width at 10,next half-width at 10,crossing,earliest,latest", "stats::lm, predict, uniroot")
for (i in seq_along(weeks)) for (h in c(80, 83.5)) for (level in c(0.8, 0.95)) {
  d <- data.frame(w = weeks[[i]][[1]], s = weeks[[i]][[2]])
  m <- lm(s ~ w, d); ci <- confint(m, level = level)
  at <- function(w, kind) predict(m, data.frame(w = w), interval = kind, level = level)
  c10 <- at(10, "confidence"); n10 <- at(10, "prediction")
  low <- uniroot(function(w) at(w, "confidence")[2] - h, c(-200, 1e4), tol = 1e-12)$root
  high <- uniroot(function(w) at(w, "confidence")[3] - h, c(-200, 1e4), tol = 1e-12)$root
  put(f, i - 1, h, level, num(coef(m)[2]), num((ci[2, 2] - ci[2, 1]) / 2), num(c10[1]), num(c10[3] - c10[1]), num(n10[3] - n10[1]),
      num((h - coef(m)[1]) / coef(m)[2]), num(low), num(high))
}
