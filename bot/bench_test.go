package bot

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

var benchDay = time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)

// askBench puts a question to the bench with these batches in the book; the first is meant.
func askBench(t *testing.T, units, topic string, args map[string]any, batches ...*ferment.State) string {
	t.Helper()
	for i, s := range batches { // a book gives each its number
		s.N = i + 1
	}
	x := &turn{bk: &book{style: say.Style{Units: units, Now: benchDay}, batches: batches}}
	r, ok := x.bench(parse.Intent{Topic: topic, Args: args}, batches[0])
	if !ok {
		t.Fatalf("%s: not the bench's", topic)
	}
	return say.Text(r.Lines)
}

func must(v float64, sg liquid.Gravity) *ferment.State {
	return &ferment.State{N: 1, Name: "damson", Kind: ferment.Country, VolumeL: v, OG: sg, BottleML: 750,
		Last: &ferment.Reading{SG: sg, Counts: true, At: benchDay}, Expected: sg}
}

func wine(name string, v float64, abv liquid.PercentVol) *ferment.State {
	s := must(v, 0.995)
	s.Name, s.ABV, s.ABVKnown, s.OG = name, abv, true, 1.090
	s.Pitched, s.Stop = benchDay.AddDate(0, -2, 0), ferment.Stop{Verdict: ferment.StopDry, Shown: benchDay}
	s.SugarKnown, s.SugarLeft, s.Gone, s.Stage = true, 0, 1, ferment.Stopped
	return s
}

// Figures of mass balance and of common practice, worked out by hand apart from this code;
// each names its source.
func TestBenchFigures(t *testing.T) {
	ph := wine("damson", 23, 12.5)
	ph.PH = &ferment.Measure{Value: 3.4}
	small := wine("damson", 4.55, 12.5)
	ta := must(23, 1.080)
	ta.TA = &ferment.Measure{Value: 5}
	ta8 := must(23, 1.080)
	ta8.TA = &ferment.Measure{Value: 8}
	for _, c := range []struct {
		source, topic string
		args          map[string]any
		batches       []*ferment.State
		want          []string
	}{
		{"mass balance on the ICUMSA sucrose table", parse.TopicSugarTo, map[string]any{"target_sg": 1.090},
			[]*ferment.State{must(23, 1.070)}, []string{"1.41 kg of sugar", "makes 23.9 L"}},
		{"mass balance on the ICUMSA sucrose table, for a final volume", parse.TopicSugarTo, map[string]any{"target_sg": 1.090, "mode": "final"},
			[]*ferment.State{must(23, 1.070)}, []string{"1.36 kg of sugar"}},
		{"honey holds 80 % sugar, common practice", parse.TopicHoneyTo, map[string]any{"target_sg": 1.090},
			[]*ferment.State{must(23, 1.070)}, []string{"1.9 kg of honey"}},
		{"0.8 molecular at pH 3.4 by pK 1.81 is 32 mg/L; ÷ 576 1.28 g", parse.TopicSulphite, nil,
			[]*ferment.State{ph}, []string{"1.3 g metabisulphite", "adds 32 mg/L"}},
		{"57.6 % SO2 by atomic masses: 50 mg/L in 23 L", parse.TopicSulphite, map[string]any{"ppm": 50.0}, []*ferment.State{ph}, []string{"damson: 2 g metabisulphite"}},
		{"the same in 4.55 L, and the stock solution of it", parse.TopicSulphite, map[string]any{"ppm": 50.0},
			[]*ferment.State{small}, []string{"0.39 g", "10 g in 100 ml", "3.9 ml"}},
		{"250 mg/L (L. Eisenman, Stabilizing Sweet Wines) × 23 L = 5.75 g; limit OIV COEI-1-POTSOR", parse.TopicSorbate, nil,
			[]*ferment.State{wine("damson", 23, 12.5)}, []string{"5.8 g potassium sorbate", "187 mg/L sorbic", "cap 200 (OIV)"}},
		{"blend: (10 × 13 + 5 × 10) ÷ 15", parse.TopicBlend, map[string]any{"text": "blend 10 l of elder with 5l apple"},
			[]*ferment.State{wine("elder", 20, 13), wine("apple", 20, 10)}, []string{"15 L of 12.0 % vol"}},
		{"top-up: 22 × 12.5 ÷ 23", parse.TopicTopUp, map[string]any{"volume": 1.0, "unit": "L"},
			[]*ferment.State{wine("damson", 22, 12.5)}, []string{"makes 23 L", "12.5 to 12.0 % vol"}},
		{"equivalent masses: 23 L × 1 g/L", parse.TopicAcidTo, map[string]any{"ta": 6.0}, []*ferment.State{ta},
			[]string{"23 g tartaric acid", "5 to 6 g/L", "falls by 0.05–0.15"}},
		{"1.334 g KHCO3 per g of tartaric acid, Handbook of Enology", parse.TopicAcidDown, map[string]any{"ta": 7.0}, []*ferment.State{ta8},
			[]string{"31 g potassium", "pH rises"}},
		{"common practice: 23 L less 1 to 1.5 L", parse.TopicBottlesFrom, nil, []*ferment.State{wine("damson", 23, 12.5)}, []string{"28–29 bottles"}},
		{"common practice: 15 g/L × 0.75 L at most, beer glass 6 g/L", parse.TopicPriming, nil, []*ferment.State{wine("damson", 23, 12.5)},
			[]string{"beer glass 4.5 g", "sparkling glass 11 g"}},
		{"5 g in 0.75 L are 6.7 g/L: over beer glass", parse.TopicPriming, map[string]any{"grams": 5.0, "bottles": 38.0},
			[]*ferment.State{wine("damson", 23, 12.5)}, []string{"190 g in all", "6.7 g/L", "wired sparkling glass only"}},
	} {
		got := askBench(t, "metric", c.topic, c.args, c.batches...)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%s (%s): %q is missing in\n%s", c.topic, c.source, w, got)
			}
		}
		if n := strings.Count(got, "\n") + 1; n > say.Depth {
			t.Errorf("%s: %d lines\n%s", c.topic, n, got)
		}
	}
}

// Sorbate counts what is in it already: 268 mg/L of the salt are the limit of 200 mg/L
// sorbic acid (OIV II.3.4.5), so 150 before leave 118 mg/L, 2.7 g in 23 L; 250 leave
// too little to do anything.
func TestSecondSorbateStaysUnderTheCap(t *testing.T) {
	s := wine("damson", 23, 12.5)
	s.Sorbate = 150
	if got := askBench(t, "metric", parse.TopicSorbate, nil, s); !strings.Contains(got, "2.7 g") || !strings.Contains(got, "200 mg/L sorbic") {
		t.Errorf("after 150 mg/L:\n%s", got)
	}
	s.Sorbate = 250
	if got := askBench(t, "metric", parse.TopicSorbate, nil, s); !strings.Contains(got, "no more sorbate") || !strings.Contains(got, "268") {
		t.Errorf("after 250 mg/L:\n%s", got)
	}
}

// Refusals of the trade: no sulphite and no sorbate with malolactic, no priming
// before it is dry (common practice).
func TestBenchRefuses(t *testing.T) {
	mlf := wine("damson", 23, 12.5)
	mlf.MLFStarted = benchDay
	working := wine("damson", 23, 6)
	working.Stop = ferment.Stop{}
	for _, c := range []struct {
		topic, material, want string
		s                     *ferment.State
	}{
		{parse.TopicSulphite, "", "no sulphite now", mlf},
		{parse.TopicSorbate, "", "no sorbate", mlf},
		{parse.TopicMayAdd, "potassium sorbate", "no sorbate", mlf},
		{parse.TopicMayAdd, "campden", "no sulphite now", mlf},
		{parse.TopicPriming, "", "NO priming", working},
		{parse.TopicPriming, "", "NO priming", mlf},
		{parse.TopicMayAdd, "sorbate", "not yet", working},
		{parse.TopicMayAdd, "nutrient", "too late", working},
		{parse.TopicMayAdd, "bentonite", "nothing against", wine("damson", 23, 12.5)},
		{parse.TopicNutrient, "", "no nutrient now", working},
	} {
		args := map[string]any{}
		if c.material != "" {
			args["material"] = c.material
		}
		if got := askBench(t, "metric", c.topic, args, c.s); !strings.Contains(got, c.want) {
			t.Errorf("%s %s: want %q in\n%s", c.topic, c.material, c.want, got)
		}
	}
}

// A blend of which one part is not in the book is asked, never worked out without it.
func TestBlendOfUnknownPartIsAsked(t *testing.T) {
	a, b := wine("elder 26", 20, 13), wine("apple", 20, 10)
	for said, ok := range map[string]bool{
		"blend 10 l elder 26 with 5 l apple": true, "what if I blend 2.5 litres elder and 500 ml of apple?": true, "10 elder 5 apple": true,
		"blend 10 l elder with 5 l plum": false, "blend elder with apple": false, "blend 2 gal elder, 1 l apple": false, "": false,
	} {
		got := askBench(t, "metric", parse.TopicBlend, map[string]any{"text": said}, a, b)
		if strings.Contains(got, "% vol") != ok {
			t.Errorf("%q:\n%s", said, got)
		}
	}
}

// Whatever is missing, the bench answers in lines that fit, and never panics.
func TestBenchWithoutFigures(t *testing.T) {
	long := wine("a very long batch name of the year", 23.456, 12.5)
	long.PH, long.TA, long.SO2Added = &ferment.Measure{Value: 3.85}, &ferment.Measure{Value: 12}, 140
	tiny := wine("damson", 0.3, 12.5)
	states := []*ferment.State{{N: 1}, must(0, 1.080), must(21, 0), wine("x", 0, 0), long, tiny, must(1e6, 2)}
	topics := []string{parse.TopicSugarTo, parse.TopicHoneyTo, parse.TopicWaterTo, parse.TopicAcidTo, parse.TopicAcidDown, parse.TopicSulphite,
		parse.TopicSorbate, parse.TopicNutrient, parse.TopicSweeten, parse.TopicBlend, parse.TopicPriming, parse.TopicTopUp,
		parse.TopicBottlesFrom, parse.TopicGas, parse.TopicMayAdd}
	args := []map[string]any{nil, {"target_sg": 1.1, "mode": "final"}, {"ta": 3.0}, {"ph": 3.2}, {"ppm": 120.0, "grams": 5.0, "bottles": 1e9},
		{"volume": 2.0, "unit": "L", "grams_per_litre": 20.0}, {"ppm": -1.0, "grams": -5.0, "target_sg": -1.0}}
	for _, units := range []string{"metric", "us", "uk"} {
		for _, s := range states {
			for _, topic := range topics {
				for _, a := range args {
					got := askBench(t, units, topic, a, s)
					if got == "" {
						t.Errorf("%s %v: no answer", topic, a)
					}
					if n := strings.Count(got, "\n") + 1; n > say.Depth {
						t.Errorf("%s %s %v: %d lines\n%s", units, topic, a, n, got)
					}
					for _, l := range strings.Split(got, "\n") {
						if utf8.RuneCountInString(l) > say.Width {
							t.Errorf("%s %v: too wide: %q", topic, a, l)
						}
						if strings.Contains(l, "NaN") || strings.Contains(l, "Inf") || strings.Contains(l, "%!") {
							t.Errorf("%s %v: %q", topic, a, l)
						}
					}
				}
			}
		}
	}
	x := &turn{bk: &book{}}
	if _, ok := x.bench(parse.Intent{Topic: parse.TopicGraph}, &ferment.State{}); ok {
		t.Error("the bench took a topic that is not its own")
	}
}
