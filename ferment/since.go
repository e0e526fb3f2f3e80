package ferment

import "mustbook/ferment/liquid"

// since is what went in after the newest gravity that counts, and what the wine was
// like when that was read. Until it is read again the figures follow by balance.
type since struct {
	og      liquid.Gravity // original gravity of then
	volume  liquid.Litres  // of then; 0 unknown
	diluted float64        // what was left then of the alcohol after additions to a stopped wine
	sugar   liquid.Grams
	water   liquid.Litres
}

// goesIn counts sugar and water since the newest gravity. The volume of then may be
// typed after the gravity, so the newest known before the first addition counts.
func (f *folder) goesIn(sugar liquid.Grams, water liquid.Litres) {
	if f.since.sugar == 0 && f.since.water == 0 {
		f.since.volume = liquid.Litres(f.s.VolumeL)
	}
	f.since.sugar += sugar
	f.since.water += water
}

// expected is what the wine would read now: the newest gravity with what went in
// since, by the balance of masses (liquid.Solution).
func (f *folder) expected() liquid.Gravity {
	x, last := f.since, f.s.Last.SG
	if x.volume <= 0 || x.sugar == 0 && x.water == 0 {
		return last
	}
	abv := liquid.PercentVol(0)
	if f.pitched(f.s.Last.At) && x.og > 0 {
		to := last
		if f.fermentedTo > 0 {
			to = f.fermentedTo
		}
		if a, err := liquid.AlcoholByBalance(x.og, min(to, x.og)); err == nil {
			abv = liquid.PercentVol(float64(a.ABV) * x.diluted)
		}
	}
	mix, err := liquid.SolutionOf(x.volume, last, abv)
	if err != nil {
		return last
	}
	return mix.WithSugar(x.sugar).WithWater(x.water).Gravity()
}
