package script

import (
	"context"
	"crypto/rand"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/bot"
)

// conditionsAfter plays what nora typed and returns the conditions of the first batch and
// the last answer. Lines may begin with a day and hour; without, each comes a minute later.
func conditionsAfter(t *testing.T, typed string) (conditions []string, answer string) {
	t.Helper()
	at := time.Date(2026, 9, 1, 9, 0, 0, 0, time.UTC)
	var src strings.Builder
	for _, l := range strings.Split(strings.TrimSpace(typed), "\n") {
		l = strings.TrimSpace(l)
		if day, rest, ok := strings.Cut(l, "| "); ok {
			d, err := time.Parse("2006-01-02", strings.TrimSpace(day))
			if err != nil {
				t.Fatal(err)
			}
			at, l = d.Add(9*time.Hour), rest
		}
		src.WriteString(at.Format("2006-01-02 15:04") + " nora: " + l + "\n")
		at = at.Add(time.Minute)
	}
	story, err := Parse(src.String(), time.LoadLocation)
	if err != nil {
		t.Fatal(err)
	}
	p := &Player{Bot: &bot.Bot{Zone: time.LoadLocation, Default: story.Zone, Rand: rand.Reader}, Story: story, DB: mustOpen(t, filepath.Join(t.TempDir(), "book.db"))}
	p.Say = func(s Said) error {
		if s.From == "bot" {
			answer = s.Text
		}
		return nil
	}
	if err := p.Play(context.Background()); err != nil {
		t.Fatal(err)
	}
	all, err := p.Summaries(context.Background())
	if err != nil || len(all) == 0 {
		t.Fatalf("%d batches, %v", len(all), err)
	}
	if err := p.DB.Close(); err != nil {
		t.Fatal(err)
	}
	return all[0].Conditions, answer
}

// dry is a wine that has stopped and is dry by the 10th.
const dry = `new quince white 23 l
sg 1.085 20c
pitched
2026-09-10 | 0.994 20c
2026-09-12 | 0.994 20c
2026-09-14 | 0.994 20c
`

// The conditions of a batch are reached by what is typed, and answers use them. The
// limits are common practice: 30 °C in a must, 32 on red skins, 14 for cold, 3 % of a
// vessel empty.
func TestConditionsFromTypedMessages(t *testing.T) {
	begun := "new quince white 23 l\nsg 1.085 20c\npitched\n"
	for name, c := range map[string]struct {
		typed string
		has   []string
		not   []string
		says  string
	}{
		"too hot":             {begun + "2026-09-03 | 1.060 at 31c\ntemp?", []string{"too hot"}, nil, "Too hot"},
		"hot in the status":   {begun + "2026-09-03 | 1.060 at 31c\nstatus", []string{"too hot"}, nil, "too hot"},
		"nutrient when hot":   {begun + "2026-09-03 | 1.060 at 31c\ncan I add nutrient?", []string{"too hot"}, nil, "not now"},
		"not too hot":         {begun + "2026-09-03 | 1.060 at 29c\ntemp?", nil, []string{"too hot", "too cold"}, "29 °C"},
		"red skins":           {"new merlot red 23 l\nsg 1.090 20c\npitched\n2026-09-03 | 1.060 at 31c\nstatus", nil, []string{"too hot"}, "primary"},
		"red skins, hot":      {"new merlot red 23 l\nsg 1.090 20c\npitched\n2026-09-03 | 1.060 at 33c\nstatus", []string{"too hot"}, nil, "too hot"},
		"too cold":            {begun + "2026-09-03 | 1.060 at 12c\nstatus", []string{"too cold"}, nil, "too cold"},
		"no temperature":      {begun + "2026-09-03 | 1.060", []string{"no temperature"}, nil, "is working"},
		"stuck":               {begun + "2026-09-05 | 1.030 20c\n2026-09-07 | 1.030 20c\n2026-09-09 | 1.030 20c\ncan I add sugar?", []string{"stuck"}, nil, "quince white: sugar, no"},
		"headspace":           {dry + "racked 20 l into the 23 l carboy\nhow to top up?", []string{"headspace"}, nil, "3 L short of 23 L"},
		"full":                {dry + "racked 22.8 l into the 23 l carboy\nstatus", nil, []string{"headspace"}, "stopped"},
		"malolactic":          {dry + "mlf started\nsulphite to 50 ppm", []string{"malolactic"}, nil, "no sulphite now"},
		"malolactic, sorbate": {dry + "mlf started\nsorbate?", []string{"malolactic"}, nil, "no sorbate, ever"},
		"malolactic, bottle":  {dry + "mlf started\nif I bottle now?", []string{"malolactic", "unsafe to bottle"}, nil, "NOT safe"},
		"geranium":            {dry + "mlf started\nsorbate 5 g", []string{"sorbate with malolactic"}, nil, "geranium taint"},
		"sweet, loose":        {dry + "sweetened with 700 g sugar\nif I bottle now?", []string{"sweet", "unsafe to bottle"}, nil, "NOT safe"},
		"sweet, guarded": {dry + "sulphite 2 g\nsorbate 5.5 g\n2026-09-15 | sweetened with 700 g sugar\n2026-09-25 | 1.005 20c\n2026-09-27 | 1.005 20c\nif I bottle now?",
			[]string{"sweet"}, []string{"unsafe to bottle"}, "may be bottled"},
		"fizzy, in its gate": {dry + "meant fizzy\n1 g sugar in each of 30 bottles\nbottled 30", nil, []string{"unsafe to bottle"}, "bottled, 30"},
		"fizzy, too sweet":   {dry + "meant fizzy\nsweetened with 700 g sugar\nbottled 30", []string{"unsafe to bottle"}, nil, "NOT safe"},
		"fizzy, working":     {begun + "2026-09-10 | 1.010 20c\nmeant fizzy\nbottled 28", []string{"unsafe to bottle"}, nil, "NOT safe"},
		"not proven":         {begun + "2026-09-10 | 0.994 20c\nif I bottle now?", nil, nil, "NOT safe"},
		"bottled too soon":   {begun + "2026-09-10 | 1.010 20c\nbottled 28", []string{"unsafe to bottle"}, nil, "NOT safe"},
		"cider unknown":      {strings.Replace(dry, "quince white", "apple cider", 1) + "sulphite?", []string{"unsafe to bottle"}, nil, "Malolactic is likely"},
	} {
		got, answer := conditionsAfter(t, c.typed)
		for _, w := range c.has {
			if !slices.Contains(got, w) {
				t.Errorf("%s: %v lacks %q", name, got, w)
			}
		}
		for _, w := range c.not {
			if slices.Contains(got, w) {
				t.Errorf("%s: %v has %q", name, got, w)
			}
		}
		if !strings.Contains(answer, c.says) {
			t.Errorf("%s: %q is missing in\n%s", name, c.says, answer)
		}
	}
}
