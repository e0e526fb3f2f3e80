package forecast

import "math"

// Run forecasts a batch. With fewer than MinReadings it answers TooFew and no
// dates; the only error is ErrOG. No date lies before the newest reading or more
// than Horizon after it.
//
// The interval holds the true day in about nine of ten simulated and real ferments
// from the third reading on; two readings within the lag are nearly worthless, and
// their wide interval says so.
func Run(in Input) (Result, error) {
	s, err := clean(in)
	if err != nil || len(s.day) == 0 {
		return Result{Verdict: TooFew}, err
	}
	r := Result{Verdict: TooFew, Readings: len(s.day), OG: s.og, OGAssumed: s.assumed}
	r.LastDay, r.DryGravity = s.day[s.last()], DryGravity(s.og)
	clk := newClock(in, r.LastDay)
	r.ClockBlind = clk.blind
	if len(s.day) < MinReadings {
		return r, nil
	}
	obs := observe(s, clk, in.Sigma)
	t := newTester(s, obs, clk.blind)
	post, newest := t.after(len(s.day)), s.sg[s.last()]
	r.ESS = post.ess
	r.tell(in, s, obs.theta[s.last()], post, clk)
	if in.Halt {
		r.Now, r.Before = t.at(len(s.day)), t.at(len(s.day)-1)
	}
	r.Verdict = r.verdict(noStart(s, obs.theta), newest)
	return r, nil
}

// Band is Run's band alone: the gravities to expect on the given days.
func Band(in Input, days []float64) ([]BandPoint, error) {
	in.Days, in.Targets, in.Halt = days, nil, false
	r, err := Run(in)
	return r.Band, err
}

// observe puts the readings on the clock. sigma is that of one reading alone, SG.
func observe(s series, clk *clock, sigma float64) observations {
	if !(sigma > 0 && sigma < 0.05) { // NaN too
		sigma = 0.001
	}
	obs := observations{sg: s.sg, sigma: math.Hypot(sigma, modelSD)}
	for _, d := range s.day {
		obs.theta = append(obs.theta, clk.at(d))
	}
	return obs
}

// tell fills in what the draws say, in one pass over them; theta is the thermal
// time of the newest reading.
func (r *Result) tell(in Input, s series, theta float64, post *posterior, clk *clock) {
	newest := s.sg[s.last()]
	var crossings []*crossing
	for _, g := range in.Targets {
		if g > 0 && g < newest {
			crossings = append(crossings, newCrossing(g, r.LastDay, clk))
		}
	}
	late := &lateness{limit: healthyBy(s.og)}
	speed := &speed{theta: theta}
	band := newBand(in.Days, clk)
	post.each(func(c *curve, w float64) {
		for _, x := range crossings {
			x.add(c, w)
		}
		late.add(c, w)
		speed.add(c, w)
		band.add(c, w)
	})
	for _, x := range crossings {
		r.Crossings = append(r.Crossings, x.result())
	}
	r.PSluggish, r.Band = late.result(), band.result()
	var middle curve
	middle.set(&post.prior.mean)
	// What is usual is the middle of the prior, not the batch's own past.
	pace := clk.paceAt(r.LastDay)
	r.Rate, r.UsualRate = speed.result()*pace, middle.speed(newest)*pace
}
