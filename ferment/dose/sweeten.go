package dose

import "mustbook/ferment/liquid"

const sourceWine = "mass balance with Tabarié's sum"

// mostSweetening is the sugar put into a litre of wine at most, in grams.
const mostSweetening = 400

// Sweetening is what sugar does to a wine.
type Sweetening struct {
	Grams    liquid.Grams
	Doubt    liquid.Grams         // ±, from 0.001 on the reading
	PerLitre liquid.GramsPerLitre // in the sweetened wine
	Volume   liquid.Litres        // after
	Gravity  liquid.Gravity       // after
	ABV      liquid.PercentVol    // after: diluted, never made
	Warnings []Warning
}

func wine(v liquid.Litres, g liquid.Gravity, abv liquid.PercentVol) (liquid.Solution, error) {
	if err := firstError(checkVolume(v),
		liquid.Within("gravity of the wine", float64(g), 0.975, 1.2, "", sourceWine)); err != nil {
		return liquid.Solution{}, err
	}
	return liquid.SolutionOf(v, g, abv)
}

// AddSugar returns what grams of dry sugar make of v litres of a must or wine.
// Gravity and volume rise, alcohol is only diluted. Range: gravity 0.975 to 1.200, 0
// to 30 % vol, 0 to 400 g of sugar a litre; else a *liquid.RangeError. Source: mass
// balance with Tabarié's sum (OIV-MA-AS2-03B). Example: 10 g/L lift a dry wine by
// about 0.004.
func AddSugar(v liquid.Litres, g liquid.Gravity, abv liquid.PercentVol, grams liquid.Grams) (Sweetening, error) {
	s, err := wine(v, g, abv)
	if err == nil {
		err = liquid.Within("sugar", float64(grams), 0, mostSweetening*float64(v), "g", sourceWine)
	}
	if err != nil {
		return Sweetening{}, err
	}
	after := s.WithSugar(grams)
	volume := after.Volume()
	return Sweetening{
		Grams: grams, PerLitre: liquid.GramsPerLitre(float64(grams) / float64(volume)),
		Volume: volume, Gravity: after.Gravity(), ABV: after.ABV(),
		Warnings: warn(nil, grams > 0 && abv > 0, NeedsStabilising),
	}, nil
}

// SweetenTo returns the sugar that lifts v litres of wine to a gravity, with the
// volume and the alcohol afterwards. Range: that of AddSugar, the target not below
// the gravity and within 400 g/L of it; else a *liquid.RangeError. Source: as
// AddSugar. Example: 20 L of 0.994 and 12.5 % to 1.004 take 0.52 kg, and leave 12.3 %.
func SweetenTo(v liquid.Litres, from liquid.Gravity, abv liquid.PercentVol, to liquid.Gravity) (Sweetening, error) {
	s, err := wine(v, from, abv)
	if err != nil {
		return Sweetening{}, err
	}
	most := liquid.Grams(mostSweetening * float64(v))
	if err := liquid.Within("target gravity", float64(to), float64(from)-1e-9, float64(s.WithSugar(most).Gravity()), "", sourceWine); err != nil {
		return Sweetening{}, err
	}
	grams := bisect(0, float64(most), func(m float64) float64 {
		return float64(s.WithSugar(liquid.Grams(m)).Gravity() - to)
	})
	out, err := AddSugar(v, from, abv, liquid.Grams(grams))
	if err != nil {
		return Sweetening{}, err
	}
	out.Warnings = append(out.Warnings, TrialFirst)
	out.Doubt = liquid.Grams(float64(readingDoubt) * gramsPerGravity(s, out.Grams))
	return out, nil
}

// gramsPerGravity is the sugar for a unit of gravity, there where it went in.
func gramsPerGravity(s liquid.Solution, m liquid.Grams) float64 {
	const h = 1 // gram a kilogram is far above rounding and far below the doubt
	step := s.Mass / 1000 * h
	rise := s.WithSugar(m+step).Gravity() - s.WithSugar(m).Gravity()
	return float64(step) / float64(rise)
}

// bisect finds the zero of a rising f between low and high to a part in 2⁵⁰; it is
// kept to plain halving, since an answer needs it once.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 50 {
		mid := (low + high) / 2
		if f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// Diluted is what water makes of a wine.
type Diluted struct {
	Volume   liquid.Litres
	Gravity  liquid.Gravity
	ABV      liquid.PercentVol
	Warnings []Warning
}

// WaterInto returns what w litres of water make of v litres of must or wine: a top-up
// with water dilutes all there is. Range: that of AddSugar, water 0 to 100,000 L; else
// a *liquid.RangeError. Source: mass balance. Example: 1 L into 22 L of 12.5 % leaves
// 12.0 %.
func WaterInto(v liquid.Litres, g liquid.Gravity, abv liquid.PercentVol, w liquid.Litres) (Diluted, error) {
	s, err := wine(v, g, abv)
	if err == nil {
		err = liquid.Within("water", float64(w), 0, mostLitres, "L", sourceWine)
	}
	if err != nil {
		return Diluted{}, err
	}
	s = s.WithWater(w)
	return Diluted{s.Volume(), s.Gravity(), s.ABV(), warn(nil, w > 0, WeakensMust)}, nil
}
