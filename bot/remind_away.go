package bot

import (
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
)

// away keeps a holiday, or ends one.
func (t *turn) away(in parse.Intent) error {
	if over, _ := in.Args["over"].(bool); over {
		return t.awayOver()
	}
	from, ok1 := in.Args["from"].(time.Time)
	last, ok2 := in.Args["to"].(time.Time)
	if !ok1 || !ok2 || last.Before(from) {
		return t.reply(reply{Lines: say.AwayWhen()})
	}
	minder := text(in.Args, "minder")
	pause, _ := in.Args["pause"].(bool)
	e := ferment.Entry{Key: ferment.SetAway, At: from, DayOnly: true, Text: minder, Has: true, Value: float64(dayCount(from, last) + 1)}
	if pause {
		e.Text = ferment.AwayPause
	}
	if _, err := t.set(0, e); err != nil {
		return err
	}
	lines := t.bk.style.Away(from, last, minder, pause, t.youngAt(last))
	if minder != "" && !t.reaches(minder) {
		if err := t.reply(reply{Lines: lines, Whole: true, Buttons: t.undoButton()}); err != nil {
			return err
		}
		return t.reply(reply{Lines: say.CannotReach(minder), Whole: true})
	}
	return t.reply(reply{Lines: lines, Whole: true, Buttons: t.undoButton()})
}

// dayCount counts the midnights from a to b by the calendar.
func dayCount(a, b time.Time) int {
	at := func(t time.Time) time.Time {
		y, m, d := t.Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return int(at(b).Sub(at(a)) / day)
}

// youngAt reports a batch that will be under ten days old, and so not to be left
// alone (common practice, no source).
func (t *turn) youngAt(last time.Time) bool {
	for _, s := range t.bk.open() {
		if working(s) && !s.Pitched.IsZero() && last.Sub(s.Pitched) < 10*day {
			return true
		}
	}
	return false
}

// reaches reports whether a member can be written to in private.
func (t *turn) reaches(name string) bool {
	r := t.b.newReminding(t.tx, t.bk, t.in.Now)
	if r.meet() != nil {
		return false
	}
	_, ok := r.privateOf(name)
	return ok
}

// holiday is the one that is on, else the next to come; nil where there is none.
func (t *turn) holiday() *schedule.Away {
	var best *schedule.Away
	all := t.bk.scheduleHouse(t.in.At).Away
	for i := range all {
		if a := &all[i]; t.in.At.Before(a.To) && (best == nil || a.From.Before(best.From)) {
			best = a
		}
	}
	return best
}

func (t *turn) awayOver() error {
	a := t.holiday()
	if a == nil {
		for _, a := range t.bk.scheduleHouse(t.in.At).Away {
			if since := t.in.At.Sub(a.To); since >= 0 && since < 7*day {
				return t.reply(reply{Lines: say.AwayOver()})
			}
		}
		return t.reply(reply{Lines: say.NotAway()})
	}
	if _, err := t.set(0, ferment.Entry{Key: ferment.SetAwayOver, Of: a.Root}); err != nil {
		return err
	}
	return t.reply(reply{Lines: say.AwayOver(), Buttons: t.undoButton()})
}

// minder keeps who minds a batch; where a holiday waits for somebody and no batch is
// named, who minds them all then.
func (t *turn) minder(in parse.Intent) error {
	who := text(in.Args, "text")
	nobody := strings.EqualFold(who, "nobody")
	if yes, _ := in.Args["named"].(bool); !yes {
		if a := t.holiday(); a != nil && a.Minder == "" {
			return t.mindAway(a.Root, who, nobody)
		}
	}
	s, err := t.meant(in)
	if err != nil {
		return err
	}
	if s == nil {
		return t.reply(reply{Lines: say.WhichBatch()})
	}
	if nobody {
		who = ""
	}
	if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetMinder, Text: who}); err != nil {
		return err
	}
	lines := say.Minding(say.Title(s.Name), who)
	if who != "" && !t.reaches(who) {
		lines = append(lines, say.CannotReach(who)...)
	}
	return t.reply(reply{Lines: lines, Batch: s.N, Whole: true, Buttons: t.undoButton()})
}

// mindAway keeps who minds the batches of a holiday.
func (t *turn) mindAway(root int64, who string, nobody bool) error {
	if nobody {
		who = ferment.AwayPause
	}
	if _, err := t.set(0, ferment.Entry{Key: ferment.SetAwayMinder, Of: root, Text: who}); err != nil {
		return err
	}
	if nobody {
		return t.reply(reply{Lines: say.AwayPaused(), Buttons: t.undoButton()})
	}
	lines := say.Minding("While away", who)
	if !t.reaches(who) {
		lines = append(lines, say.CannotReach(who)...)
	}
	return t.reply(reply{Lines: lines, Whole: true, Buttons: t.undoButton()})
}

// handoverRule asks who minds the batches of a holiday.
const handoverRule = "R42"

// somebody stands for the members of the house among the labels of handoverRule.
const somebody = "Somebody…"

// minders puts the other members of the house in the place of "somebody": at most
// three, so that the buttons stay readable.
func (r *reminding) minders(root int64, labels []string) []string {
	e, err := r.tx.Entry(r.bk.id, root)
	if err != nil || r.meet() != nil {
		return labels
	}
	var out []string
	for _, m := range r.members {
		if m.ID != e.Author && len(out) < 3 {
			out = append(out, say.Clip(m.Name, 20))
		}
	}
	if len(out) == 0 {
		return labels
	}
	for _, l := range labels {
		if l != somebody {
			out = append(out, l)
		}
	}
	return out
}
