package bot

import (
	"strings"
	"testing"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// Every dose has a button, and what it logs is the amount that the answer told, digit
// for digit, in a unit that the book reckons with.
func TestEveryDoseHasItsButton(t *testing.T) {
	ta := must(23, 1.080)
	ta.TA, ta.PH = &ferment.Measure{Value: 5}, &ferment.Measure{Value: 3.6}
	working := must(23, 1.050)
	working.Pitched, working.OG, working.ABV, working.ABVKnown, working.SugarKnown, working.Gone = benchDay.AddDate(0, 0, -3), 1.090, 5.3, true, true, 0.4
	still := wine("damson", 23, 12.5)
	still.PH, still.SugarKnown = &ferment.Measure{Value: 3.4}, true
	for _, c := range []struct {
		topic, label, deed, material string
		args                         map[string]any
		s                            *ferment.State
	}{
		{parse.TopicSugarTo, say.SugarAdded, ferment.DeedAddition, "sugar", map[string]any{"target_sg": 1.090}, ta},
		{parse.TopicSugarTo, say.SugarAdded, ferment.DeedAddition, "sugar", map[string]any{"target_sg": 1.060}, working},
		{parse.TopicSugarTo, say.BothAdded, ferment.DeedAddition, "sugar", map[string]any{"target_sg": 1.085, "mode": "final", "volume": 25.0, "unit": "L"}, ta},
		{parse.TopicHoneyTo, say.HoneyAdded, ferment.DeedAddition, "honey", map[string]any{"target_sg": 1.090}, ta},
		{parse.TopicHoneyTo, say.HoneyAdded, ferment.DeedAddition, "honey", map[string]any{"target_sg": 1.060}, working},
		{parse.TopicWaterTo, say.WaterAdded, ferment.DeedAddition, "water", map[string]any{"target_sg": 1.060}, ta},
		{parse.TopicWaterTo, say.WaterAdded, ferment.DeedAddition, "water", map[string]any{"target_sg": 1.040}, working},
		{parse.TopicAcidTo, say.AcidAdded, ferment.DeedAddition, "tartaric acid", map[string]any{"ta": 6.5}, ta},
		{parse.TopicAcidTo, say.AcidAdded, ferment.DeedAddition, "tartaric acid", map[string]any{"ph": 3.4}, ta},
		{parse.TopicAcidDown, say.BicarbonateAdded, ferment.DeedAddition, "potassium bicarbonate", map[string]any{"ta": 4.0}, ta},
		{parse.TopicSulphite, say.SulphiteAdded, ferment.DeedAddition, "sulphite", nil, still},
		{parse.TopicSorbate, say.SorbateAdded, ferment.DeedAddition, "sorbate", nil, still},
		{parse.TopicNutrient, say.NutrientAdded, ferment.DeedAddition, "nutrient", nil, working},
		{parse.TopicSweeten, say.Sweetened, ferment.DeedSweetened, "sugar", map[string]any{"target_sg": 1.004}, still},
		{parse.TopicTopUp, say.ToppedUp, ferment.DeedToppedUp, "water", map[string]any{"volume": 1.0, "unit": "L"}, still},
	} {
		for _, units := range []string{"metric", "us", "uk"} {
			x := &turn{bk: &book{style: say.Style{Units: units, Now: benchDay}, batches: []*ferment.State{c.s}}}
			r, ok := x.bench(parse.Intent{Topic: c.topic, Args: c.args}, c.s)
			if !ok || len(r.Buttons) != 1 {
				t.Errorf("%s, %s: %d buttons under\n%s", c.topic, units, len(r.Buttons), say.Text(r.Lines))
				continue
			}
			b := r.Buttons[0]
			if b.label != c.label || b.do.Do != doAdd || b.do.Key != c.deed || b.do.Batch != c.s.N {
				t.Errorf("%s, %s: %q does %+v", c.topic, units, b.label, b.do)
			}
			e := b.do.Entries[0]
			if e.Material != c.material || e.BatchN != c.s.N || e.Value == nil || !strings.Contains(say.Text(r.Lines), e.Typed) {
				t.Errorf("%s, %s: logs %+v under\n%s", c.topic, units, e, say.Text(r.Lines))
			}
			if _, volume := ferment.LitresOf(1, e.Unit); !volume && e.Unit != "g" && e.Unit != "kg" {
				t.Errorf("%s, %s: unit %q", c.topic, units, e.Unit)
			}
		}
	}
}

// What is refused, what is there already and what lacks a figure has nothing to log.
func TestNoButtonWithoutADose(t *testing.T) {
	mlf, working, bottled := wine("damson", 23, 12.5), wine("damson", 23, 6), wine("damson", 23, 12.5)
	mlf.MLFStarted, working.Stop, bottled.Bottled = benchDay, ferment.Stop{}, benchDay
	for _, c := range []struct {
		topic string
		args  map[string]any
		s     *ferment.State
	}{
		{parse.TopicSulphite, nil, mlf}, {parse.TopicSorbate, nil, mlf}, {parse.TopicSulphite, nil, working}, {parse.TopicSorbate, nil, working},
		{parse.TopicSweeten, map[string]any{"target_sg": 1.004}, working}, {parse.TopicSulphite, map[string]any{"ppm": 50.0}, bottled},
		{parse.TopicSugarTo, map[string]any{"target_sg": 1.080}, must(23, 1.080)}, {parse.TopicSugarTo, nil, must(23, 1.080)},
		{parse.TopicAcidTo, map[string]any{"ta": 6.0}, must(23, 1.080)}, {parse.TopicSugarTo, map[string]any{"target_sg": 1.5}, must(23, 1.080)},
		{parse.TopicPriming, map[string]any{"grams": 30.0, "bottles": 20.0}, wine("damson", 23, 12.5)},
	} {
		x := &turn{bk: &book{style: say.Style{Now: benchDay}, batches: []*ferment.State{c.s}}}
		if r, ok := x.bench(parse.Intent{Topic: c.topic, Args: c.args}, c.s); !ok || len(r.Buttons) > 0 {
			t.Errorf("%s %v: %v under\n%s", c.topic, c.args, r.Buttons, say.Text(r.Lines))
		}
	}
}
