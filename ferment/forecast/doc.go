// Package forecast says where a ferment's gravity is heading, with its doubt, and
// whether it is slow or has halted. It knows neither dates nor words: times are days
// since the pitch, gravities are SG at 20/20 °C, temperatures °C.
//
// The method is a rate that depends on the extent of the ferment, in thermal time:
// six parameters with normal priors, the most probable ones by Levenberg and
// Marquardt's method, then weighted draws around them.
//
//   - input.go: Input, what a caller hands in; Result, what comes back
//   - clean.go: readings put in order, repeated and impossible ones taken out
//   - clock.go: thermal time from the temperatures logged
//   - curve.go: gravity against thermal time, and the way back, in closed form
//   - prior.go: what is believed before the first reading; dryness
//   - fit.go: the most probable curve; matrix.go: the algebra of six by six
//   - sample.go: draws, their weights, the evidence; quantile.go: weighted quantiles; tally.go: what
//     is counted over the draws
//   - halt.go: normal, slowing or arrested, by their evidences
//   - rules.go: sluggish and no start; the rate of now beside the usual one
//   - run.go: Run and Band, which put it all together
//
// Sugar added to a working batch is the caller's to balance. Let lift be the SG that
// the sugar would have added to the must: raise OG and every reading before the
// addition by lift, and leave later readings alone, so that the fall, which is what
// the curve describes, goes on unbroken. A batch that is pitched anew after it had
// halted is better begun again: Day 0 is the new pitch, OG the gravity then (above
// MinOG), and what was read before is left out.
//
// Draws come from a generator with a constant seed, so that the same readings, in
// whatever order, always give the same answer.
package forecast
