package bot

import (
	"errors"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/dose"
	"mustbook/ferment/liquid"
)

// benched is one question at the bench: the batch as it is now, what was asked, and
// what a tap on the answer puts in the book.
type benched struct {
	style say.Style
	s     *ferment.State
	in    parse.Intent
	v     liquid.Litres

	label string
	add   action
}

// bench answers what is worked out for a batch with what is in it now: its volume,
// gravity, alcohol, pH and what was added. false for topics it does not know.
func (t *turn) bench(in parse.Intent, s *ferment.State) (reply, bool) {
	b := &benched{style: t.bk.style, s: s, in: in, v: liquid.Litres(s.VolumeL)}
	if v, ok := number(in.Args, "volume"); ok {
		if l, ok := ferment.LitresOf(v, text(in.Args, "unit")); ok {
			b.v = liquid.Litres(l)
		}
	}
	work := b.work()
	if in.Topic == parse.TopicBlend {
		work = func() ([]string, error) {
			return b.blend(t.bk.parts(parse.BlendParts(t.blendText(in), t.bk.style.Units, winesOf(t.bk.open()))))
		}
	}
	if work == nil {
		return reply{}, false
	}
	r := reply{Batch: s.N, Whole: true}
	lines, err := b.ready()
	if lines == nil && err == nil {
		lines, err = work()
	}
	r.Lines = b.told(lines, err)
	if err == nil && b.label != "" {
		r.Buttons = append(r.Buttons, choice{b.label, b.add})
	}
	return r, true
}

// work finds the sum that a topic asks for.
func (b *benched) work() func() ([]string, error) {
	switch b.in.Topic {
	case parse.TopicSugarTo, parse.TopicHoneyTo:
		return b.sugar
	case parse.TopicWaterTo:
		return b.water
	case parse.TopicSulphite:
		return b.sulphite
	case parse.TopicSorbate:
		return b.sorbate
	case parse.TopicSweeten:
		return b.sweeten
	case parse.TopicTopUp:
		return b.topUp
	case parse.TopicAcidTo, parse.TopicAcidDown:
		return b.acid
	case parse.TopicNutrient:
		return b.nutrient
	case parse.TopicGas:
		return b.gas
	case parse.TopicPriming:
		return b.priming
	case parse.TopicBottlesFrom:
		return b.bottlesFrom
	case parse.TopicMayAdd:
		return b.mayAdd
	}
	return nil
}

// blendText is what was said about a blend: a question keeps no text of its own.
func (t *turn) blendText(in parse.Intent) string {
	if said := text(in.Args, "text"); said != "" {
		return said
	}
	return t.in.Text
}

// ready answers at once where nothing can go in any more, and asks for the volume
// where the sum needs one.
func (b *benched) ready() ([]string, error) {
	switch b.in.Topic {
	case parse.TopicBlend, parse.TopicMayAdd, parse.TopicGas:
		return nil, nil
	case parse.TopicBottlesFrom:
		if b.s.BottlesMade > 0 {
			return append(b.style.Bottles(b.s), b.style.BottledSoFar(b.s, b.bottle())...), nil
		}
	default:
		if !b.s.Bottled.IsZero() || b.s.Stage == ferment.Empty {
			return say.NothingIn(b.s), nil
		}
	}
	known := b.v > 0
	if b.in.Topic == parse.TopicTopUp || !b.s.Pitched.IsZero() && text(b.in.Args, "mode") == "final" {
		known = b.s.VolumeL > 0
	}
	if !known && b.in.Topic != parse.TopicPriming {
		return nil, lacking("volume not known", "volume "+b.style.SomeVolume())
	}
	return nil, nil
}

// lack is a figure that is missing, and what to type: the batch's name goes before it
// where it is something of the batch.
type lack struct {
	what, example string
	named         bool
}

func (l lack) Error() string { return l.what }

func lacking(what, example string) error { return lack{what, example, true} }

var (
	errNoPH    = lacking("it needs the pH", "ph 3.4")
	errNoAcid  = lacking("acidity not known", "ta 5.5")
	errNoStart = lacking("start gravity not known", "og 1.085")
)

// told puts an answer into lines that fit, or says what is missing or out of range.
func (b *benched) told(lines []string, err error) []string {
	var out *liquid.RangeError
	var missing lack
	switch {
	case errors.As(err, &out):
		return say.OutOfRange(b.s, b.style, out)
	case errors.As(err, &missing):
		example := missing.example
		if missing.named {
			example = say.Title(b.s.Name) + " " + example
		}
		return say.Missing(b.s, missing.what, example)
	case err != nil:
		return say.Fit([]string{say.Title(b.s.Name) + ": " + err.Error()})
	}
	return say.Fit(lines)
}

// target is the gravity that was asked for.
func (b *benched) target() (liquid.Gravity, error) {
	g, ok := number(b.in.Args, "target_sg")
	if !ok {
		return 0, lack{what: "to which gravity?", example: map[string]string{parse.TopicHoneyTo: "honey to 1.100",
			parse.TopicWaterTo: "water to 1.080", parse.TopicSweeten: "sweeten to 1.004"}[b.in.Topic]}
	}
	return liquid.Gravity(g), nil
}

// now is the gravity of now: the newest reading and what went in since, by balance; of
// a must also one that was only given as its start.
func (b *benched) now() (liquid.Gravity, error) {
	switch {
	case b.s.Pitched.IsZero() && b.s.OG > 0:
		return b.s.OG, nil
	case b.s.Expected > 0:
		return b.s.Expected, nil
	case b.s.Last != nil:
		return b.s.Last.SG, nil
	case b.s.OG > 0:
		return b.s.OG, nil
	}
	return 0, lacking("no gravity yet", "sg 1.070 at "+b.style.SomeTemp())
}

// gravities are the gravity of now and the one asked for.
func (b *benched) gravities() (from, to liquid.Gravity, err error) {
	if to, err = b.target(); err != nil {
		return 0, 0, err
	}
	from, err = b.now()
	return from, to, err
}

// working reports yeast that is in and not shown to have stopped.
func (b *benched) working() bool { return !b.s.Pitched.IsZero() && b.s.Stop.Shown.IsZero() }

// malolactic reports bacteria that live in it, lived in it, or are wanted.
func (b *benched) malolactic() bool {
	return !b.s.MLFStarted.IsZero() || !b.s.MLFDone.IsZero() || b.s.MLFOpen()
}

func mustNumber(args map[string]any, key string) float64 {
	v, _ := number(args, key)
	return v
}

// all are the litres that go into a sum for what there is: not those asked for as the
// final volume.
func (b *benched) all() liquid.Litres {
	if text(b.in.Args, "mode") == "final" {
		return liquid.Litres(b.s.VolumeL)
	}
	return b.v
}

// soFar are the grams of a class that the book holds.
func (b *benched) soFar(c ferment.Class) (grams liquid.Grams) {
	for _, a := range b.s.Additions {
		if ferment.ClassOf(a.Material) == c {
			grams += liquid.Grams(a.Grams)
		}
	}
	return grams
}

// spoons tells grams of a powder by the spoon, for a house that measures so.
func (b *benched) spoons(p dose.Powder, g liquid.Grams) string {
	e, err := dose.Spoons(p, g, b.v)
	if err != nil {
		return ""
	}
	return b.style.Spoons(e.Value, b.v)
}
