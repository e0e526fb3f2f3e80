package bot

import (
	"mustbook/bot/parse"
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

// sweeten answers sugar or honey into a wine that has stopped; before that there is none.
func (b *benched) sweeten() ([]string, error) {
	if b.s.Stop.Shown.IsZero() || b.s.Stop.Verdict == ferment.StopStuck {
		return b.style.NoSweetening(b.s), nil
	}
	from, err := b.now()
	if err != nil {
		return nil, err
	}
	what := "sugar"
	if b.in.Topic == parse.TopicHoneyTo || text(b.in.Args, "with") == "honey" {
		what = "honey"
	}
	r, err := b.sweetening(what, from)
	if err != nil {
		return nil, err
	}
	if r.Grams == 0 {
		return b.style.ThereAlready(b.s, from, r.Gravity), nil
	}
	b.offer(say.Sweetened, ferment.DeedSweetened, b.weighed(what, r.Grams))
	return b.style.SweetenDose(b.s, what, r, b.malolactic(), b.second(what)), nil
}

func (b *benched) sweetening(what string, from liquid.Gravity) (dose.Sweetening, error) {
	if g, ok := number(b.in.Args, "grams_per_litre"); ok && what == "sugar" {
		return dose.AddSugar(b.all(), from, b.s.ABV, liquid.Grams(g*float64(b.all())))
	}
	to, err := b.target()
	if err != nil {
		return dose.Sweetening{}, err
	}
	switch {
	case to <= from:
		return dose.Sweetening{Gravity: to}, nil
	case what == "honey":
		return dose.HoneyTo(b.all(), from, b.s.ABV, to)
	}
	return dose.SweetenTo(b.all(), from, b.s.ABV, to)
}

// topUp answers what a top-up does; with no amount said, what the jar lacks.
func (b *benched) topUp() ([]string, error) {
	v, unit := mustNumber(b.in.Args, "volume"), text(b.in.Args, "unit")
	l, ok := ferment.LitresOf(v, unit)
	if !ok || l <= 0 {
		if gap := b.s.VesselL - b.s.VolumeL; b.s.VesselL > 0 && b.s.VolumeL > 0 {
			return b.style.Ullage(b.s, gap), nil
		}
		return nil, lack{what: "with how much?", example: "top up with " + b.style.SomeTopUp() + " water?"}
	}
	with := parse.Entry{Quantity: string(ferment.QTopping), Value: &v, Unit: unit, Typed: b.style.Number(v, 3), Material: "water"}
	if text(b.in.Args, "with") == "wine" {
		with.Material = "wine"
		b.offer(say.ToppedUp, ferment.DeedToppedUp, with)
		return b.style.TopUpWine(b.s, v, unit, l), nil
	}
	g, err := b.now()
	if err != nil {
		g = 1
	}
	r, err := dose.WaterInto(liquid.Litres(b.s.VolumeL), g, b.s.ABV, liquid.Litres(l))
	if err != nil {
		return nil, err
	}
	b.offer(say.ToppedUp, ferment.DeedToppedUp, with)
	return b.style.TopUp(b.s, v, unit, r), nil
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
	each, said := b.eachBottle()
	if err != nil || !said {
		return b.style.PrimingRoom(b.s, b.bottle(), beer, wired), err
	}
	if beer, err = dose.Prime(b.bottle(), left, liquid.Grams(each), dose.BeerGlass, cellarCelsius); err != nil {
		return nil, err
	}
	if wired, err = dose.Prime(b.bottle(), left, liquid.Grams(each), dose.SparklingGlass, cellarCelsius); err != nil {
		return nil, err
	}
	n := int(max(0, min(mustNumber(b.in.Args, "bottles"), 10000)))
	b.offerPriming(n, wired)
	return b.style.Primed(b.s, n, beer, wired), nil
}

// eachBottle is the sugar that was asked about for one bottle, in grams.
func (b *benched) eachBottle() (grams float64, said bool) {
	if g, ok := number(b.in.Args, "grams"); ok {
		return g, true
	}
	v, ok := number(b.in.Args, "each")
	if !ok {
		return 0, false
	}
	if text(b.in.Args, "unit") == "oz" {
		return v * float64(liquid.Ounce), true
	}
	e, err := dose.SpoonGrams(dose.TableSugar, v, 0)
	return e.Value, err == nil
}

// offerPriming lets a tap say that fizz is meant, and once that is said, that the sugar
// is in; never where no glass holds it.
func (b *benched) offerPriming(n int, wired dose.Priming) {
	for _, w := range wired.Warnings {
		if w == dose.OverGlassLimit {
			return
		}
	}
	switch {
	case !b.s.Plan.MeantFizzy:
		b.label, b.add = say.MeantFizzy, action{Do: doSet, Batch: b.s.N, Key: ferment.SetMeantFizzy, Text: "on"}
	case n > 0:
		b.offer(say.Primed, ferment.DeedAddition, b.weighed("priming sugar", liquid.Grams(float64(n)*float64(wired.PerBottle))))
	}
}

// blend works a blend out: "10 l of elder with 5 l of apple".
func (b *benched) blend(of []blended) ([]string, error) {
	var parts []dose.Part
	working, sorbate, bacteria, loose := false, false, false, false
	var along []string
	for _, p := range of {
		parts = append(parts, partOf(p))
		working = working || !p.s.Pitched.IsZero() && (p.s.Stop.Shown.IsZero() || p.s.Stop.Verdict == ferment.StopStuck)
		sorbate = sorbate || p.s.Sorbate > 0 || !p.s.Sorbated.IsZero()
		bacteria = bacteria || !p.s.MLFStarted.IsZero() || !p.s.MLFDone.IsZero() || p.s.MLFOpen()
		loose = loose || p.s.IsSweet() && p.s.Stop.Verdict != ferment.StopAsk
		along = append(along, p.s.Allergens...)
	}
	if len(parts) < 2 {
		return b.style.AskBlend(), nil
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
	case loose:
		careful = say.BlendWakes
	}
	return b.style.Blended(r, careful, along), nil
}

// partOf is a wine of a blend; its SO2 is the running total where none was measured.
func partOf(p blended) dose.Part {
	out := p.s.Part(p.v)
	if p.s.SO2Added > 0 || p.s.TotalSO2 != nil {
		out.TotalSO2, out.Has = (&benched{s: p.s}).totalSO2(), out.Has|dose.HasTotal
	}
	return out
}
