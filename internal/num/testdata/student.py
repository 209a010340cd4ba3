"""Writes student.csv: the share of Student's t between -t and t, and above t,
by quadrature of its density in mpmath."""
from mpmath import *
mp.dps=40
def within(t,nu):
    t=mpf(t);nu=mpf(nu)
    c=gammaratio(nu)
    return 2*c*quad(lambda u:exp(-(nu+1)/2*log1p(u*u/nu)),linspace(0,t,9))
def gammaratio(nu):
    mp.dps+=25
    v=exp(loggamma((nu+1)/2)-loggamma(nu/2))/sqrt(nu*pi)
    mp.dps-=25
    return v
def tail(t,nu):
    t=mpf(t);nu=mpf(nu);c=gammaratio(nu)
    # substitute u=t+s
    pts=[t,t+mpf(1)/4/t,t+1/t,t+3/t,t+10/t,t+30/t,t+100/t,t+300/t,t+1000/t]
    if nu<1000: pts+= [10*t+1000, 1000*t+1000,inf]
    else: pts+=[t+5000/t]
    return c*quad(lambda u:exp(-(nu+1)/2*log1p(u*u/nu)),pts)
out=[]
for nu in ['1','2.5','7','39.5','40','41','79','81','1000','1e6','9e9','1e12','1e17']:
    for t in ['1e-9','1e-6','1e-3','0.3','1','1.7','1.8']:
        out.append(('w',t,nu,within(t,nu)))
    for t in ['1.75','2','3','6','12']:
        out.append(('t',t,nu,tail(t,nu)))

print("# StudentWithin(t, nu), then StudentCDF(-t, nu), by quadrature of the density with 40 digits: student.py")
for o in out: print("%d,%s,%s,%s"%(o[0]=='t',o[1],o[2],nstr(o[3],19)))
