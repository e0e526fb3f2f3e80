package bot

import (
	"errors"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// bench answers what is worked out for a batch with what is in it now: its volume,
// gravity, alcohol, pH and what was added. false for topics it does not know.
func (t *turn) bench(in parse.Intent, s *ferment.State) ([]string, bool) {
	b := &benched{style: t.bk.style, s: s, in: in, v: liquid.Litres(s.VolumeL)}
	if v, ok := number(in.Args, "volume"); ok {
		if l, ok := ferment.LitresOf(v, text(in.Args, "unit")); ok {
			b.v = liquid.Litres(l)
		}
	}
	work := map[string]func() ([]string, error){
		parse.TopicSugarTo: b.sugar, parse.TopicHoneyTo: b.sugar, parse.TopicWaterTo: b.water, parse.TopicSulphite: b.sulphite,
		parse.TopicSorbate: b.sorbate, parse.TopicSweeten: b.sweeten, parse.TopicTopUp: b.topUp,
		parse.TopicAcidTo: b.acid, parse.TopicAcidDown: b.acid, parse.TopicNutrient: b.nutrient, parse.TopicGas: b.gas,
		parse.TopicPriming: b.priming, parse.TopicBottlesFrom: b.bottlesFrom, parse.TopicMayAdd: b.mayAdd,
		parse.TopicBlend: func() ([]string, error) { return b.blend(t.blendText(in), t.bk.open()) },
	}[in.Topic]
	if work == nil {
		return nil, false
	}
	if !b.volumeKnown() {
		return say.Missing(s, "volume not known", say.Title(s.Name)+" volume 21 l"), true
	}
	lines, err := work()
	var out *liquid.RangeError
	if errors.As(err, &out) {
		return append(told(s, errOutside), say.Wrap(out.Error())...), true
	}
	if err != nil {
		return told(s, err), true
	}
	return say.Fit(lines), true
}

// blendText is what was said about a blend: a question keeps no text of its own.
func (t *turn) blendText(in parse.Intent) string {
	if said := text(in.Args, "text"); said != "" {
		return said
	}
	return t.in.Text
}

// volumeKnown reports enough for the topic: a top-up's own volume is the water's.
func (b *benched) volumeKnown() bool {
	switch b.in.Topic {
	case parse.TopicBlend, parse.TopicMayAdd, parse.TopicPriming:
		return true
	case parse.TopicTopUp:
		return b.s.VolumeL > 0
	}
	return b.v > 0
}

// benched is one question at the bench.
type benched struct {
	style say.Style
	s     *ferment.State
	in    parse.Intent
	v     liquid.Litres
}

var (
	errNoTarget  = errors.New("to which gravity? like 1.085")
	errNoGravity = errors.New("no gravity yet")
	errNoPH      = errors.New("it needs the pH. Type: ph 3.4")
	errOutside   = errors.New("outside what I can work out")
)

// gravities are the gravity of now and the one asked for.
func (b *benched) gravities() (from, to liquid.Gravity, err error) {
	g, ok := number(b.in.Args, "target_sg")
	if !ok {
		return 0, 0, errNoTarget
	}
	if b.s.Last == nil && b.s.OG == 0 {
		return 0, 0, errNoGravity
	}
	if from = b.s.OG; b.s.Last != nil {
		from = b.s.Last.SG
	}
	return from, liquid.Gravity(g), nil
}

func (b *benched) sugar() ([]string, error) {
	from, to, err := b.gravities()
	if err != nil {
		return nil, err
	}
	what, work := "sugar", dose.SugarInto
	switch final := text(b.in.Args, "mode") == "final"; {
	case b.in.Topic == parse.TopicHoneyTo && final:
		what, work = "honey", dose.HoneyForFinal
	case b.in.Topic == parse.TopicHoneyTo:
		what, work = "honey", dose.HoneyInto
	case final:
		work = dose.SugarForFinal
	}
	r, err := work(b.v, from, to)
	if err != nil {
		return nil, err
	}
	return b.style.SugarDose(b.s, what, r, from, to), nil
}

func (b *benched) water() ([]string, error) {
	from, to, err := b.gravities()
	if err != nil {
		return nil, err
	}
	r, err := dose.WaterToLower(b.v, from, to)
	if err != nil {
		return nil, err
	}
	return b.style.WaterDose(b.s, r, from, to), nil
}

// wantedSO2 is the free SO2 asked for in mg/L, and by which way it was found.
func (b *benched) wantedSO2() (mg liquid.MilligramsPerLitre, molecular float64, err error) {
	if ppm, ok := number(b.in.Args, "ppm"); ok {
		return liquid.MilligramsPerLitre(ppm), 0, nil
	}
	m, ok := number(b.in.Args, "molecular")
	if !ok {
		m = float64(dose.MolecularTarget)
	}
	if b.s.PH == nil {
		return 0, m, errNoPH
	}
	f, err := dose.FreeForMolecular(liquid.MilligramsPerLitre(m), b.s.PH.Value, 0.05)
	return f.Free, m, err
}

func (b *benched) sulphite() ([]string, error) {
	if b.s.MLFOpen() {
		return b.style.NoSulphite(b.s), nil
	}
	if b.s.MLFUnknown() && b.s.Stop.Proven() {
		return b.mayAdd()
	}
	want, molecular, err := b.wantedSO2()
	if err != nil {
		return nil, err
	}
	adds := want
	if molecular > 0 && b.s.FreeSO2 != nil {
		adds = max(0, want-liquid.MilligramsPerLitre(b.s.FreeSO2.Value))
	}
	r, err := dose.SulphiteFor(b.v, adds, liquid.MilligramsPerLitre(b.s.SO2Added), dose.PotassiumSalt)
	if err != nil {
		return nil, err
	}
	return b.style.SulphiteDose(b.s, r, molecular), nil
}

func (b *benched) sorbate() ([]string, error) {
	if b.malolactic() {
		return b.style.NoSorbate(b.s), nil
	}
	r, err := dose.SorbateFor(b.v, dose.SorbateUsual, liquid.MilligramsPerLitre(b.s.Sorbate), false)
	if err != nil {
		return nil, err
	}
	return b.style.SorbateDose(b.s, r), nil
}

func (b *benched) sweeten() ([]string, error) {
	if g, ok := number(b.in.Args, "grams_per_litre"); ok {
		if b.s.Last == nil {
			return nil, errNoGravity
		}
		r, err := dose.AddSugar(b.v, b.s.Last.SG, b.s.ABV, liquid.Grams(g*float64(b.v)))
		if err != nil {
			return nil, err
		}
		return b.style.SweetenDose(b.s, r), nil
	}
	from, to, err := b.gravities()
	if err != nil {
		return nil, err
	}
	r, err := dose.SweetenTo(b.v, from, b.s.ABV, to)
	if err != nil {
		return nil, err
	}
	return b.style.SweetenDose(b.s, r), nil
}

func (b *benched) topUp() ([]string, error) {
	l, ok := ferment.LitresOf(mustNumber(b.in.Args, "volume"), text(b.in.Args, "unit"))
	if !ok {
		return nil, errors.New("with how much? like 1 l water")
	}
	g := liquid.Gravity(1)
	if b.s.Last != nil {
		g = b.s.Last.SG
	} else if b.s.OG > 0 {
		g = b.s.OG
	}
	r, err := dose.WaterInto(liquid.Litres(b.s.VolumeL), g, b.s.ABV, liquid.Litres(l))
	if err != nil {
		return nil, err
	}
	return b.style.TopUp(b.s, l, r), nil
}

func mustNumber(args map[string]any, key string) float64 {
	v, _ := number(args, key)
	return v
}
