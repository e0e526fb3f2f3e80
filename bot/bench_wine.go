package bot

import (
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// cellarCelsius is a cool cellar (10–16 °C in its middle, common practice).
const cellarCelsius = 12

func (b *benched) bottle() liquid.Litres {
	if b.s.BottleML > 0 {
		return liquid.Litres(b.s.BottleML / 1000)
	}
	return 0.75
}

func (b *benched) bottlesFrom() ([]string, error) {
	r, err := dose.BottlesFrom(b.v, b.bottle())
	if err != nil {
		return nil, err
	}
	return b.style.BottlesFrom(b.s, b.v, b.bottle(), r), nil
}

// priming answers sugar for fizz: its own gate first, then by the glass.
func (b *benched) priming() ([]string, error) {
	dry := b.s.Stop.Verdict == ferment.StopDry
	if !dry || !b.s.SugarKnown || b.s.Has(ferment.Malolactic) || b.s.MLFOpen() {
		return b.style.NotFizzyYet(b.s), nil
	}
	left := liquid.GramsPerLitre(b.s.SugarLeft + b.s.SugarDoubt)
	beer, err := dose.PrimingFor(b.bottle(), left, dose.BeerGlass, cellarCelsius)
	if err != nil {
		return nil, err
	}
	wired, err := dose.PrimingFor(b.bottle(), left, dose.SparklingGlass, cellarCelsius)
	each, said := number(b.in.Args, "grams")
	if err != nil || !said {
		return b.style.PrimingRoom(b.s, b.bottle(), beer, wired), err
	}
	if beer, err = dose.Prime(b.bottle(), left, liquid.Grams(each), dose.BeerGlass, cellarCelsius); err != nil {
		return nil, err
	}
	if wired, err = dose.Prime(b.bottle(), left, liquid.Grams(each), dose.SparklingGlass, cellarCelsius); err != nil {
		return nil, err
	}
	return b.style.Primed(b.s, int(max(0, min(mustNumber(b.in.Args, "bottles"), 10000))), beer, wired), nil
}

// blend works a blend out of the text: "10 l of elder with 5 l of apple".
func (b *benched) blend(said string, open []*ferment.State) ([]string, error) {
	var parts []dose.Part
	working, sorbate, bacteria := false, false, false
	for _, p := range blendParts(said, b.style.Units, open) {
		parts = append(parts, partOf(p))
		working = working || !p.s.Pitched.IsZero() && (p.s.Stop.Shown.IsZero() || p.s.Stop.Verdict == ferment.StopStuck)
		sorbate = sorbate || p.s.Sorbate > 0 || !p.s.Sorbated.IsZero()
		bacteria = bacteria || !p.s.MLFStarted.IsZero() || !p.s.MLFDone.IsZero() || p.s.MLFOpen()
	}
	if len(parts) < 2 {
		return say.AskBlend(), nil
	}
	r, err := dose.Blend(parts...)
	if err != nil {
		return nil, err
	}
	careful := ""
	switch {
	case sorbate && bacteria:
		careful = say.BlendGeranium
	case working:
		careful = say.BlendWorking
	}
	return b.style.Blended(r, careful), nil
}

func partOf(p blended) dose.Part {
	out := dose.Part{Volume: liquid.Litres(p.v)}
	if p.s.Last != nil {
		out.Gravity, out.Has = p.s.Last.SG, out.Has|dose.HasGravity
	}
	if p.s.ABVKnown {
		out.ABV, out.Has = p.s.ABV, out.Has|dose.HasABV
	}
	if p.s.TA != nil {
		out.TA, out.Has = liquid.GramsPerLitre(p.s.TA.Value), out.Has|dose.HasTA
	}
	return out
}
