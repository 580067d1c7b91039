// Package soak answers whether a device is fixed or merely resting: how long it
// must run, or how often it must be switched on, without the symptom before one
// may call it fixed, and how far a running soak has got.
//
// # Where to start
//
// Fill in a [Question] (how the symptom showed before, how likely it is that the
// fault is still there, how sure one wants to be) and call [Make] for a [Plan]:
// what is needed, the steps to get it, and the curve of the belief. While the
// device runs, keep the [Event]s with their times and call [Follow]; it folds
// them from the start every time, so nothing has to keep running in between.
//
// # Model
//
// If the fault is still there, the symptom shows as it showed before: in time as
// a Poisson process of rate λ, or at each start by itself with chance p. If it has
// been repaired, the symptom never shows. With π the chance that the fault is still
// there and S the chance of staying clean all the same,
//
//	P(fixed | clean) = (1−π) / (π·S + 1−π)
//
// and the soak is over when P(fixed) ≥ C, that is when
//
//	S ≤ s* = (1−C)·(1−π) / (C·π).
//
// What was seen before does not give λ or p exactly:
//
//	n showings in time τ         λ ~ Gamma(n, τ)          S(t) = (τ/(τ+t))^n
//	mean interval m, exact       λ = 1/m                  S(t) = e^(−t/m)
//	k of n starts                p ~ Beta(k+½, n−k+½)     S(N) = B(k+½, n−k+½+N) / B(k+½, n−k+½)
//	chance k/n per start, exact  p = k/n                  S(N) = (1−p)^N
//
// Gamma(n, τ) is the posterior under the prior 1/λ; its quantiles are the exact
// limits of a test that ended with the n-th failure, the more demanding of the
// two conventions. Beta has Jeffreys' prior. An average or "each time" by feel
// counts as if seen three times (judged; [History.Seen] and [History.Of] say better).
//
// [Test] as the [Method] leaves π out and asks for S ≤ 1−C: the classical test.
//
// # What counts
//
// A symptom that shows only in one condition is tested only in that condition.
// The device's heat w goes from 0 (cold) to 1 (warmed through) linearly over
// [Settings.WarmUpMin] while on, and back over [Settings.CoolDownMin] while off.
//
//	anytime  every minute that it is on; every start
//	cold     the first WarmUpMin after a start at w = 0; starts at w = 0
//	warm     minutes at w = 1; starts at w ≥ ¾
//	late     minutes beyond History.AfterMin in one run; runs that last that long
//
// A start counts once it has run for [Settings.HoldMin] (late: AfterMin + HoldMin).
// Running only counts when somebody has confirmed it clean, by a Clean or a
// Paused event; until then it is pending. A recurrence ends the soak.
//
// # Units and ranges
//
// Minutes throughout; chances from 0 to 1. Every input has a range and a value
// outside it is a [*FieldError], a sentence that says what to give.
//
// # Limits
//
// The symptom's rate is taken as constant within its condition and unchanged by
// work that did not repair the fault. A plug reseated may rest for weeks: that is
// what π must carry. The soak proves nothing about faults other than the one it is for.
//
// # References
//
//   - NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1 (constant repair rate), 8.3.1.1.
//   - W. Nelson, Applied Life Data Analysis, 1982, ch. 6 and 7 (time- and failure-terminated tests). From memory.
//   - H. F. Martz, R. A. Waller, Bayesian Reliability Analysis, 1982 (Gamma and Beta priors). From memory.
package soak
