package script

import (
	"context"
	"path/filepath"
	"testing"

	"mustbook/schedule"
	"mustbook/store"
)

// lived is what became of a rule in the stories.
type lived struct{ made, moot, answered int }

// tally counts what becomes of every reminder while a story is played.
type tally struct {
	p     *Player
	rules map[string]*lived
	seen  map[int64]bool // said rows counted as made
	done  map[int64]bool // and as answered

	instruments map[schedule.Subject]bool
}

func (y *tally) of(rule string) *lived {
	if y.rules[rule] == nil {
		y.rules[rule] = &lived{}
	}
	return y.rules[rule]
}

// step plays a line. A reminder that stood in the plan and is gone after the line,
// though it was neither made nor answered by it, was moot: what was said settled it.
func (y *tally) step(ctx context.Context, s Step) error {
	if err := y.p.walk(ctx, s.At); err != nil {
		return err
	}
	if err := y.count(ctx); err != nil {
		return err
	}
	before, err := y.planned(ctx)
	if err != nil {
		return err
	}
	if err := y.p.Step(ctx, s); err != nil {
		return err
	}
	after, err := y.planned(ctx)
	if err != nil {
		return err
	}
	answered := map[schedule.Key]bool{}
	err = y.p.DB.View(ctx, func(tx *store.Tx) error {
		for k := range before {
			rows, err := tx.Said(y.p.book, k.Subject.Kind, k.Subject.N)
			if err != nil {
				return err
			}
			for _, r := range rows {
				made := schedule.Key{Rule: r.Rule, Subject: k.Subject, Anchor: r.Anchor, Occurrence: r.Occurrence / 100}
				if made == k && (!r.AnsweredAt.IsZero() || !r.SnoozedTo.IsZero()) {
					answered[k] = true
				}
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for k := range before {
		if !after[k] && !answered[k] {
			y.of(k.Rule).moot++
		}
	}
	return y.count(ctx)
}

// planned is what is due, to come or open, by rule, subject, anchor and step.
func (y *tally) planned(ctx context.Context) (map[schedule.Key]bool, error) {
	out := map[schedule.Key]bool{}
	err := y.p.DB.View(ctx, func(tx *store.Tx) error {
		items, err := y.p.Bot.Planned(tx, y.p.book, y.p.now)
		for _, it := range items {
			k := it.Key
			k.Occurrence = it.Step()
			out[k] = true
		}
		return err
	})
	return out, err
}

// count looks through the rows of what was said.
func (y *tally) count(ctx context.Context) error {
	return y.p.DB.View(ctx, func(tx *store.Tx) error {
		numbers, err := tx.BatchNumbers(y.p.book)
		if err != nil {
			return err
		}
		subjects := []schedule.Subject{{Kind: schedule.BookKind}, {Kind: schedule.TubKind, N: 1}, {Kind: schedule.TubKind, N: 2}}
		for _, n := range numbers {
			subjects = append(subjects, schedule.Subject{Kind: schedule.BatchKind, N: int64(n)})
		}
		items, err := y.p.Bot.Planned(tx, y.p.book, y.p.now)
		if err != nil {
			return err
		}
		for _, it := range items {
			if it.Subject.Kind == schedule.InstrumentKind {
				y.instruments[it.Subject] = true
			}
		}
		for s := range y.instruments {
			subjects = append(subjects, s)
		}
		for _, s := range subjects {
			rows, err := tx.Said(y.p.book, s.Kind, s.N)
			if err != nil {
				return err
			}
			for _, r := range rows {
				if !y.seen[r.ID] {
					y.seen[r.ID] = true
					y.of(r.Rule).made++
				}
				if !y.done[r.ID] && (!r.AnsweredAt.IsZero() || !r.SnoozedTo.IsZero()) {
					y.done[r.ID] = true
					y.of(r.Rule).answered++
				}
			}
		}
		return nil
	})
}

// TestStoriesLiveEveryReminder: the stories together bring every reminder of the
// table about, see it settled by what somebody said, and answer it with a tap.
func TestStoriesLiveEveryReminder(t *testing.T) {
	if underRace {
		t.Skip("the stories are played by TestScript; counting what they live through is the plain run's")
	}
	files, err := filepath.Glob("../../testdata/script/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]*lived{}
	for _, f := range files {
		p, _, _ := mustPlayer(t, f)
		p.Say = func(Said) error { return nil }
		ctx := context.Background()
		if err := p.begin(ctx); err != nil {
			t.Fatal(err)
		}
		y := &tally{p: p, rules: rules, seen: map[int64]bool{}, done: map[int64]bool{}, instruments: map[schedule.Subject]bool{}}
		for _, s := range p.Story.Steps {
			if err := y.step(ctx, s); err != nil {
				t.Fatalf("%s:%d: %v", f, s.Line, err)
			}
		}
		if err := p.DB.Close(); err != nil {
			t.Fatal(err)
		}
	}
	for _, r := range schedule.Rules() {
		l := rules[r.ID]
		if l == nil {
			l = &lived{}
		}
		t.Logf("%-6s made %d, moot %d, answered %d", r.ID, l.made, l.moot, l.answered)
		if l.made == 0 || l.moot == 0 || l.answered == 0 {
			t.Errorf("%s is not lived through: made %d, moot %d, answered %d", r.ID, l.made, l.moot, l.answered)
		}
	}
}
