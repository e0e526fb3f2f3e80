package bot

import (
	"slices"
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// nextOf says what to do next with a batch, the soonest first: what the reminders
// will ask, from the very plan that makes them.
func (t *turn) nextOf(s *ferment.State) []say.Next {
	items, err := t.b.newReminding(t.tx, t.bk, t.in.At).plan(s)
	if err != nil {
		return nil // a plan only adds a line; what was asked is answered without it
	}
	return nextSteps(s, items, t.bk.style)
}

// nextSteps turns what is planned for a batch into steps to do: first what waits for
// an answer or is due, the most pressing first, then the days to come. What was due
// already has no day: it is to be done.
func nextSteps(s *ferment.State, items []schedule.Item, style say.Style) []say.Next {
	now := style.Now
	var waiting, coming, last []schedule.Item
	for _, it := range items {
		switch {
		case aside(it, now) || askedAnew(it, items):
		case it.Rule == "R30": // a figure that helps is no step of the work
			last = append(last, it)
		case it.Open || it.Repeat || !it.Due.After(now):
			waiting = append(waiting, it)
		default:
			coming = append(coming, it)
		}
	}
	var out []say.Next
	for _, it := range append(append(schedule.Pressing(waiting), coming...), last...) {
		out = append(out, stepOf(it, now))
	}
	if first, ok := unasked(s, out, style); ok {
		out = append([]say.Next{first}, out...)
	}
	return readOnce(out, style)
}

// askedAnew reports a question about the start that a later one has taken up.
func askedAnew(it schedule.Item, items []schedule.Item) bool {
	later := map[string][]string{"R03": {"R04", "R05"}, "R04": {"R05"}}[it.Rule]
	return it.Open && slices.ContainsFunc(items, func(x schedule.Item) bool { return x.Open && slices.Contains(later, x.Rule) })
}

// readOnce leaves out what the same gravity answers: a second reading of the same day,
// and where it is stuck every other reading, since that one decides.
func readOnce(steps []say.Next, style say.Style) []say.Next {
	var out []say.Next
	stuck := false
	for _, n := range steps {
		if asksGravity[n.What] && (stuck || slices.ContainsFunc(out, func(o say.Next) bool {
			return asksGravity[o.What] && (o.Due.IsZero() || !n.Due.IsZero() && style.Date(o.Due) == style.Date(n.Due))
		})) {
			continue
		}
		stuck = stuck || n.What == "R14" || n.What == "R15"
		out = append(out, n)
	}
	return out
}

// asksGravity are the reminders that a gravity answers.
var asksGravity = map[string]bool{"R07": true, "R09": true, "R14": true, "R15": true, "R16": true, "R17": true, "R18": true}

func stepOf(it schedule.Item, now time.Time) say.Next {
	n := say.Next{What: it.Rule, Do: say.Doing(it.Rule, it.Args), Due: it.Due}
	if it.Open || it.Repeat || !it.Due.After(now) || it.Rule == "R02" {
		n.Due = time.Time{}
	}
	return n
}

// aside tells what is no step to plan for: what is about to be part of this very
// answer, stirring by the clock, and the question whether a batch is still there.
func aside(it schedule.Item, now time.Time) bool {
	switch it.Rule {
	case "R06", "R41", "R44", "R45":
		return true
	case "R35":
		return false
	case "R38": // who wants no label has heard it twice
		return it.Open && now.Sub(it.Due) > 28*24*time.Hour
	case "R50": // a wish of the household's own that nobody has answered for a week
		return it.Open && now.Sub(it.Due) > 7*24*time.Hour
	}
	return it.AtOnce && !it.Open && !it.Due.After(now)
}

// unasked is a step of which nobody is reminded, since the household was just told
// of it or must say something first.
func unasked(s *ferment.State, planned []say.Next, style say.Style) (say.Next, bool) {
	switch {
	case s.Stage == ferment.Must && s.OG == 0 && !s.Plan.NoHydrometer && (len(planned) == 0 || planned[0].What != "R02"):
		return say.Next{What: "R02", Do: say.Doing("R02", nil)}, true
	case s.Stage == ferment.Must && s.OG > 0 && len(planned) == 0:
		return say.Next{What: "R01", Do: "Pitch the yeast at " + style.Between(18, 24)}, true
	case s.Plan.MeantFizzy && s.Stop.Proven() && s.Bottled.IsZero() && len(planned) == 0:
		return say.Next{What: "R34", Do: "Ask: how much priming sugar"}, true
	case s.Stop.Verdict == ferment.StopAsk:
		return say.Next{What: "R19", Do: "Say: dry enough, or meant sweet"}, true
	case s.Has(ferment.Stuck) && (len(planned) == 0 || planned[0].What != "R15" && planned[0].What != "R14"):
		return say.Next{What: "R15", Do: say.Doing("R15", nil), Due: style.Now.AddDate(0, 0, 2)}, true
	case s.Stage == ferment.Primary && s.Last == nil:
		return say.Next{What: "R07", Do: "Read it"}, true
	}
	return say.Next{}, false
}

// week lists what is due within seven days, of all batches and of the house.
func (t *turn) week() ([]string, error) {
	items, err := t.b.newReminding(t.tx, t.bk, t.in.At).all()
	if err != nil {
		return nil, err
	}
	var steps []say.Step
	for _, it := range items {
		if !aside(it, t.in.At) && it.Rule != schedule.WeeklyID && !it.Due.After(t.in.At.AddDate(0, 0, 7)) {
			steps = append(steps, say.Step{Batch: t.batchName(batchOf(it)), Next: stepOf(it, t.in.At)})
		}
	}
	for _, s := range t.bk.open() {
		if first, ok := unasked(s, nextSteps(s, nil, t.bk.style), t.bk.style); ok {
			steps = append([]say.Step{{Batch: s.Name, Next: first}}, steps...)
		}
	}
	return t.bk.style.Week(steps), nil
}

// all is every reminder that is due, will be due as the book stands, or was made and
// waits for an answer: of all batches and of the house.
func (r *reminding) all() ([]schedule.Item, error) {
	items, err := r.planHouse()
	if err != nil {
		return nil, err
	}
	for _, s := range r.bk.open() {
		of, err := r.plan(s)
		if err != nil {
			return nil, err
		}
		items = append(items, of...)
	}
	return schedule.Order(items), nil
}

// Planned is every reminder of a book that is due, will be due as the book stands,
// or was made and waits for an answer.
func (b *Bot) Planned(tx *store.Tx, id int64, now time.Time) ([]schedule.Item, error) {
	bk, err := b.load(tx, id, now, 0)
	if err != nil {
		return nil, err
	}
	return b.newReminding(tx, bk, now).all()
}

// answerWeek answers what is due.
func (t *turn) answerWeek() error {
	lines, err := t.week()
	if err != nil {
		return err
	}
	return t.reply(reply{Lines: lines, Whole: true})
}

// asksAt is when the start will be asked after; zero: not at all.
func asksAt(next []say.Next) time.Time {
	for _, n := range next {
		if n.What == "R03" || n.What == "R51" {
			return n.Due
		}
	}
	return time.Time{}
}
