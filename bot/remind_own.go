package bot

import (
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// remind keeps a reminder of the household's own.
func (t *turn) remind(in parse.Intent) error {
	at, ok := t.ownTime(in)
	if !ok {
		return t.reply(reply{Lines: []string{"When? Like: remind me saturday to rack"}})
	}
	n := in.Batch
	if s := t.bk.batch(n); s != nil && text(in.Args, "deed") == "" && t.in.ReplyTo == 0 && !say.Speaks(t.in.Text, s.Name) {
		n = 0 // "to buy sulphite" is nothing of the batch that was spoken of last
	}
	return t.keepReminder(n, text(in.Args, "text"), text(in.Args, "deed"), at)
}

// dayAlone is the hour of a reminder for which only a day was named.
const dayAlone = 10

// ownTime is when somebody wants to be reminded.
func (t *turn) ownTime(in parse.Intent) (time.Time, bool) {
	at, ok := in.Args["at"].(time.Time)
	if byDay, _ := in.Args["day"].(bool); ok && byDay {
		y, m, d := at.Date()
		at = time.Date(y, m, d, dayAlone, 0, 0, 0, t.bk.zone)
	}
	return at, ok
}

func (t *turn) keepReminder(batch int, what, deed string, at time.Time) error {
	what = say.Clip(what, 60)
	if what == "" {
		what = "look after the wine"
	}
	if _, err := t.set(batch, ferment.Entry{Key: ferment.SetRemind, Text: what, Material: deed, At: at}); err != nil {
		return err
	}
	return t.reply(reply{Lines: []string{"I remind you " + t.bk.style.Moment(at) + ":", what}, Batch: batch, Whole: true, Buttons: t.undoButton()})
}

// offerPlan answers a plan that was kept as a note: it is offered as a reminder.
func (t *turn) offerPlan(in parse.Intent, es []ferment.Entry) (bool, error) {
	deed, what := text(in.Args, "deed"), text(in.Args, "text")
	at, ok := t.ownTime(in)
	if in.Event != ferment.DeedNote || deed == "" || !ok || !at.After(t.in.At) || len(es) == 0 {
		return false, nil
	}
	yes := action{Do: doRemind, Batch: es[0].Batch, Key: deed, Text: what, Value: float64(at.Unix())}
	return true, t.reply(reply{Lines: t.bk.style.PlanNoted(t.planWords(what, at), at), Batch: es[0].Batch, Whole: true,
		Buttons: []choice{{say.Yes, yes}, {say.No, action{Do: doRemind, Batch: es[0].Batch}}}})
}

// planWords is a plan with its day: "rack on Sunday".
func (t *turn) planWords(what string, at time.Time) string {
	what = say.Clip(what, 28)
	if at.Sub(t.in.At) < 7*day {
		return what + " on " + at.In(t.bk.zone).Format("Monday")
	}
	return what + " on " + t.bk.style.Date(at)
}

// agreed makes a plan a reminder, or leaves it a note.
func (t *turn) agreed(a action) error {
	if a.Value == 0 {
		return t.reply(reply{Lines: say.PlanOnly(), Batch: a.Batch})
	}
	return t.keepReminder(a.Batch, a.Text, a.Key, time.Unix(int64(a.Value), 0).In(t.bk.zone))
}
