# Writes twosided.csv, two-sided normal tolerance factors, to standard output.
# Run with R and the package spc (Debian: r-base-core, r-cran-spc).
library(spc)
cat(sprintf("# R %s.%s, spc %s\n", R.version$major, R.version$minor, packageVersion("spc")))
cat("n,coveragePct,confidencePct,k\n")
for (n in c(2, 3, 5, 10, 30, 100, 300, 1000))
  for (p in c(0.9, 0.95, 0.99))
    for (g in c(0.9, 0.95, 0.99))
      cat(sprintf("%d,%g,%g,%.9g\n", n, 100 * p, 100 * g, tol.lim.fac(n, p, 1 - g, mode = "exact", m = 100)))
