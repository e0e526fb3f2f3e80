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
	}[in.Topic]
	if work == nil {
		return nil, false
	}
	if b.v <= 0 {
		return b.style.VolumeNow(s), true
	}
	lines, err := work()
	var out *liquid.RangeError
	if errors.As(err, &out) {
		return append([]string{say.Title(s.Name) + ": outside what I can work out"}, say.Wrap(out.Error())...), true
	}
	if err != nil {
		return []string{say.Title(s.Name) + ": " + err.Error()}, true
	}
	return lines, true
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
		m = 0.8
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

// sorbateDose is 250 mg/L of potassium sorbate (TRADE stage 11).
const sorbateDose = 250

func (b *benched) sorbate() ([]string, error) {
	malolactic := !b.s.MLFStarted.IsZero() || !b.s.MLFDone.IsZero() || b.s.MLFOpen()
	if malolactic {
		return b.style.NoSorbate(b.s), nil
	}
	before := liquid.MilligramsPerLitre(b.s.Sorbate) // as the salt, which is what SorbateFor counts
	r, err := dose.SorbateFor(b.v, sorbateDose, before, malolactic)
	if err != nil {
		return nil, err
	}
	return b.style.SorbateDose(b.s, r), nil
}

func (b *benched) sweeten() ([]string, error) {
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
