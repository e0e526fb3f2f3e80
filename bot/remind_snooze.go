package bot

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/schedule"
	"mustbook/store"
)

// snoozeReach is how long ago a reminder may have come to be put off by a word.
const snoozeReach = 7 * day

// newestSaid are the reminders of the message that is replied to, else of the
// newest that came to this book: one, or those that went as one message. What is
// settled is not among them.
func (t *turn) newestSaid() ([]store.SaidRow, error) {
	all, err := t.b.allSaid(t.tx, t.bk, t.in.At)
	if err != nil {
		return nil, err
	}
	var at time.Time
	if id := t.repliedSaid(); id != 0 {
		for _, r := range all {
			if r.ID == id {
				at = r.MadeAt
			}
		}
	}
	pick := func(at time.Time) []store.SaidRow {
		var out []store.SaidRow
		for _, r := range all {
			if r.MadeAt.Equal(at) && r.AnsweredAt.IsZero() && r.SnoozedTo.IsZero() && !r.Muted {
				out = append(out, r)
			}
		}
		return out
	}
	if !at.IsZero() {
		return pick(at), nil
	}
	here, err := t.saidHere()
	if err != nil {
		return nil, err
	}
	newest := func(ok func(store.SaidRow) bool) (at time.Time) {
		for _, r := range all {
			if r.AnsweredAt.IsZero() && r.SnoozedTo.IsZero() && !r.Muted && r.MadeAt.After(at) && t.in.At.Sub(r.MadeAt) < snoozeReach && ok(r) {
				at = r.MadeAt
			}
		}
		return at
	}
	if at = newest(func(r store.SaidRow) bool { return here[r.ID] }); at.IsZero() {
		at = newest(func(store.SaidRow) bool { return true })
	}
	return pick(at), nil
}

// chatReach is how many of the newest messages of a chat are looked through.
const chatReach = 60

// saidHere are the reminders at the head of the newest messages in this chat: "later" is
// said of what came here, not of what a group read meanwhile.
func (t *turn) saidHere() (map[int64]bool, error) {
	outs, err := t.tx.RecentOut(t.in.Chat.ID, chatReach)
	if err != nil {
		return nil, err
	}
	here := map[int64]bool{}
	for _, o := range outs {
		if id, ok := strings.CutPrefix(o.Source, "r"); ok {
			if n, err := strconv.ParseInt(id, 10, 64); err == nil {
				here[n] = true
			}
		}
	}
	return here, nil
}

// repliedSaid is the reminder of the message that is replied to; 0: none.
func (t *turn) repliedSaid() int64 {
	if t.in.ReplyTo == 0 {
		return 0
	}
	out, err := t.tx.OutByPlatform(t.in.Chat.ID, t.in.ReplyTo)
	if err != nil {
		return 0
	}
	id, _ := strconv.ParseInt(strings.TrimPrefix(out.Source, "r"), 10, 64)
	return id
}

// allSaid are the reminders made of everything in a book.
func (b *Bot) allSaid(tx *store.Tx, bk *book, now time.Time) ([]store.SaidRow, error) {
	subjects := []schedule.Subject{{Kind: schedule.BookKind}}
	for _, s := range bk.open() {
		subjects = append(subjects, schedule.Subject{Kind: schedule.BatchKind, N: int64(s.N)})
	}
	for _, in := range bk.instruments(now) {
		subjects = append(subjects, schedule.Subject{Kind: schedule.InstrumentKind, N: in.N})
	}
	for _, x := range tubs(bk.settled) {
		subjects = append(subjects, schedule.Subject{Kind: schedule.TubKind, N: x.N})
	}
	var out []store.SaidRow
	for _, s := range subjects {
		rows, err := tx.Said(bk.id, s.Kind, s.N)
		if err != nil {
			return nil, err
		}
		out = append(out, rows...)
	}
	return out, nil
}

// snooze puts off what spoke last, or asks until when.
func (t *turn) snooze(in parse.Intent) error {
	rows, err := t.newestSaid()
	if err != nil {
		return err
	}
	if len(rows) == 0 {
		return t.reply(reply{Lines: say.NothingToSnooze()})
	}
	if in := slices.DeleteFunc(slices.Clone(rows), func(r store.SaidRow) bool { return r.Rule == schedule.WeeklyID }); len(in) > 0 {
		rows = in // what came in the round-up is put off, not the week
	}
	at, ok := in.Args["at"].(time.Time)
	if !ok {
		return t.askSnooze(rows)
	}
	if byDay, _ := in.Args["day"].(bool); byDay {
		at = morningOf(at)
	}
	return t.putOff(rows, at)
}

// morningOf is when a day begins for a household that named no hour.
func morningOf(at time.Time) time.Time {
	y, m, d := at.Date()
	return time.Date(y, m, d, 9, 0, 0, 0, at.Location())
}

// askSnooze offers the times to put off to.
func (t *turn) askSnooze(rows []store.SaidRow) error {
	r := reply{Lines: say.SnoozeWhen(t.saidNames(rows))}
	ids := make([]int64, len(rows))
	for i, x := range rows {
		ids[i] = x.ID
	}
	for _, l := range []string{say.SnoozeHours, say.SnoozeTomorrow, say.SnoozeSaturday, say.SnoozePick} {
		r.Buttons = append(r.Buttons, choice{l, action{Do: doSnooze, Roots: ids, Key: l}})
	}
	return t.reply(r)
}

// saidNames names what was said: "damson, labels", or how many there are.
func (t *turn) saidNames(rows []store.SaidRow) string {
	var names, batches []string
	for _, r := range rows {
		if n := say.ReminderName(r.Rule); !slices.Contains(names, n) {
			names = append(names, n)
		}
		if s := t.bk.batch(batchOfSaid(r)); s != nil && !slices.Contains(batches, say.ShortName(s.Name)) {
			batches = append(batches, say.ShortName(s.Name))
		}
	}
	if len(names) > 2 || len(batches) > 1 && len(names) > 1 {
		return strconv.Itoa(len(rows)) + " reminders"
	}
	name := strings.Join(names, ", ")
	if len(batches) > 0 {
		return say.Both(batches) + ", " + name
	}
	return strings.ToUpper(name[:1]) + name[1:]
}

// snoozed does what a button of askSnooze says. With no choice yet it asks.
func (t *turn) snoozed(a action) error {
	all, err := t.b.allSaid(t.tx, t.bk, t.in.At)
	if err != nil {
		return err
	}
	var rows []store.SaidRow
	for _, r := range all {
		for _, id := range a.Roots {
			if r.ID == id && r.AnsweredAt.IsZero() {
				rows = append(rows, r)
			}
		}
	}
	if len(rows) == 0 {
		return t.reply(reply{Lines: say.NothingToSnooze()})
	}
	h := t.bk.scheduleHouse(t.in.At)
	switch a.Key {
	case say.SnoozeHours:
		return t.putOff(rows, schedule.Snooze{For: 6 * time.Hour}.Until(h, schedule.Timed, t.in.At))
	case say.SnoozeTomorrow:
		return t.putOff(rows, schedule.Snooze{Days: 1}.Until(h, schedule.Normal, t.in.At))
	case say.SnoozeSaturday:
		return t.putOff(rows, schedule.Snooze{Saturday: true}.Until(h, schedule.Normal, t.in.At))
	case say.SnoozePick:
		return t.reply(reply{Lines: say.PickDay()})
	}
	return t.askSnooze(rows)
}

// putOff keeps that reminders come again at an instant.
func (t *turn) putOff(rows []store.SaidRow, until time.Time) error {
	bundled := true // it goes with that day's message, whenever that is
	for _, r := range rows {
		rule, _ := schedule.RuleOf(r.Rule)
		bundled = bundled && rule.Weight == schedule.Normal
		r.SnoozedTo, r.Answer = until, "snooze"
		if err := t.tx.UpdateSaid(r); err != nil {
			return err
		}
	}
	if err := t.b.newReminding(t.tx, t.bk, t.in.Now).lookNext(time.Minute); err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.Snoozed(t.saidNames(rows), until, bundled), Batch: batchOfSaid(rows[0])})
}

func batchOfSaid(r store.SaidRow) int {
	if r.Kind == schedule.BatchKind {
		return int(r.N)
	}
	return 0
}
