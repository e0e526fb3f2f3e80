package dose

import "mustbook/ferment/liquid"

// Figure is a set of figures that are known of a wine.
type Figure uint

// The figures of a part of a blend.
const (
	HasGravity Figure = 1 << iota
	HasABV
	HasTA
	HasFree
	HasTotal
)

// Part is a wine that goes into a blend, or the blend that comes of it. A pH is not
// among its figures, since it never averages.
type Part struct {
	Volume   liquid.Litres
	Gravity  liquid.Gravity
	ABV      liquid.PercentVol
	TA       liquid.GramsPerLitre // on one basis for all
	FreeSO2  liquid.MilligramsPerLitre
	TotalSO2 liquid.MilligramsPerLitre
	Has      Figure // which of them are known
	Warnings []Warning
}

// Blend returns what parts make together: alcohol, acidity and SO2 by volume average,
// gravity by the balance of masses, volumes added (what they shrink by stays below 0.1
// % between wines). A figure is known of the blend where it is of every part. It always
// warns to measure pH and free SO2 again. Range: at least one part; each a volume of
// 0.001 to 100,000 L, gravity 0.975 to 1.200, alcohol 0 to 30 % vol; else a
// *liquid.RangeError. Source: conservation of mass. Example: 10 L of 13 % and 5 L of 10
// % make 15 L of 12 %.
func Blend(parts ...Part) (Part, error) {
	out := Part{Has: HasGravity | HasABV | HasTA | HasFree | HasTotal, Warnings: []Warning{MeasureAgain}}
	if err := liquid.Within("parts of a blend", float64(len(parts)), 1, 100, "", "bench arithmetic"); err != nil {
		return Part{}, err
	}
	var mass float64
	for _, p := range parts {
		if err := p.check(); err != nil {
			return Part{}, err
		}
		v := float64(p.Volume)
		mass += massOf(p.Volume, p.Gravity)
		out.Volume += p.Volume
		out.ABV += p.ABV * liquid.PercentVol(v)
		out.TA += p.TA * liquid.GramsPerLitre(v)
		out.FreeSO2 += p.FreeSO2 * liquid.MilligramsPerLitre(v)
		out.TotalSO2 += p.TotalSO2 * liquid.MilligramsPerLitre(v)
		out.Has &= p.Has
	}
	v := float64(out.Volume)
	out.Gravity = liquid.Gravity(mass / v / liquid.StandardDensityOfWater)
	out.ABV /= liquid.PercentVol(v)
	out.TA /= liquid.GramsPerLitre(v)
	out.FreeSO2 /= liquid.MilligramsPerLitre(v)
	out.TotalSO2 /= liquid.MilligramsPerLitre(v)
	return out.only(), nil
}

// only empties the figures that are not known.
func (p Part) only() Part {
	if p.Has&HasGravity == 0 {
		p.Gravity = 0
	}
	if p.Has&HasABV == 0 {
		p.ABV = 0
	}
	if p.Has&HasTA == 0 {
		p.TA = 0
	}
	if p.Has&HasFree == 0 {
		p.FreeSO2 = 0
	}
	if p.Has&HasTotal == 0 {
		p.TotalSO2 = 0
	}
	return p
}

func (p Part) check() error {
	err := checkVolume(p.Volume)
	if p.Has&HasGravity != 0 {
		err = firstError(err, liquid.Within("gravity", float64(p.Gravity), 0.975, 1.2, "", sourceWine))
	}
	if p.Has&HasABV != 0 {
		err = firstError(err, liquid.Within("alcohol", float64(p.ABV), 0, 30, "% vol", sourceWine))
	}
	return firstError(err,
		liquid.Within("acidity", float64(p.TA), 0, 50, "g/L", sourceAcid),
		liquid.Within("free SO2", float64(p.FreeSO2), 0, 1000, "mg/L", sourceSulphite),
		liquid.Within("total SO2", float64(p.TotalSO2), 0, 2000, "mg/L", sourceSulphite))
}

// ShareFor returns the share of the first of two wines, by volume, that brings the
// average of some figure to want. Range: want between the two, which must differ; else
// a *liquid.RangeError. Source: the volume average solved for the share. Example: of
// 13 and 10 % for 12, two thirds.
func ShareFor(first, second, want float64) (float64, error) {
	low, high := min(first, second), max(first, second)
	if err := liquid.Within("wanted figure", want, low, high, "", "between the two wines"); err != nil {
		return 0, err
	}
	if first == second {
		return 1, nil // any share does
	}
	return (want - second) / (first - second), nil
}
