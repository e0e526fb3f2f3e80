package bot

import (
	"encoding/json"
	"fmt"
	"slices"

	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// send writes one reminder with its buttons to the outbox.
func (r *reminding) send(it schedule.Item, id, chat int64, priority int) error {
	lines, labels := r.text(it)
	if it.Rule == handoverRule {
		labels = r.minders(it.Anchor, labels)
	}
	var buttons []labelled
	for _, l := range labels {
		buttons = append(buttons, labelled{l, action{Do: doSaid, Batch: batchOf(it), Key: it.Rule, Text: l, Value: float64(id), Action: it.Subject.Kind, Roots: []int64{it.Subject.N}}})
	}
	return r.enqueue(id, chat, batchOf(it), priority, lines, buttons)
}

// text renders an item whole.
func (r *reminding) text(it schedule.Item) (lines, labels []string) {
	r.nameBatch(&it)
	if it.Rule == ownRule && say.Speaks(it.Args["what"], it.Args["batch"]) {
		delete(it.Args, "batch") // "strain the damson" names it
	}
	lines, labels = r.bk.style.Reminder(it.Rule, it.Args)
	if s := r.bk.batch(batchOf(it)); it.Rule == notSafeRule && s != nil && !it.Late {
		lines = r.bk.style.NotSafe(s, s.Gate(r.now)) // the danger is named and computed
	}
	return lines, labels
}

// notSafeRule speaks of a batch that was bottled though the gate says no.
const notSafeRule = "R35"

// nameBatch gives a text the name of its batch.
func (r *reminding) nameBatch(it *schedule.Item) {
	if it.Args == nil {
		it.Args = map[string]string{}
	}
	if s := r.bk.batch(batchOf(*it)); s != nil {
		it.Args["batch"] = say.Title(s.Name)
	}
	it.Args["emergency"] = say.EmergencyIn(r.bk.zone.String())
}

// bundle puts the day's normal ones of a chat into one message.
func (r *reminding) bundle(items []schedule.Item) error {
	type day struct {
		items []schedule.Item
		first int64
	}
	days := map[int64]*day{}
	var chats []int64
	for _, it := range items {
		chat, ok, err := r.chatFor(it)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		id, fresh, err := r.note(it)
		if err != nil {
			return err
		}
		if !fresh || it.Rule == schedule.WeeklyID && !r.bk.anyInJar() {
			continue
		}
		r.made[it.Key] = id
		if days[chat] == nil {
			days[chat] = &day{first: id}
			chats = append(chats, chat)
		}
		days[chat].items = append(days[chat].items, it)
	}
	for _, chat := range chats {
		if err := r.together(days[chat].items, days[chat].first, chat); err != nil {
			return err
		}
	}
	return nil
}

// together sends what falls due in a chat on one day: a lone one whole with its
// buttons, several as a line each, the most pressing first. The round-up of the
// week stands in place of them all.
func (r *reminding) together(items []schedule.Item, id, chat int64) error {
	for i, it := range items {
		if it.Rule == schedule.WeeklyID {
			return r.roundUp(it, append(items[:i:i], items[i+1:]...), chat)
		}
	}
	if asked := askedOnce(items); len(asked) == 1 {
		return r.send(asked[0], r.made[asked[0].Key], chat, 2)
	}
	first, line := r.oneLineEach(askedOnce(items))
	shown, more := schedule.Bundle(first)
	var lines []string
	for _, it := range shown {
		lines = append(lines, line[it.Key])
	}
	if more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more: what next", more))
	}
	batch := batchOf(items[0])
	if slices.ContainsFunc(items, func(it schedule.Item) bool { return batchOf(it) != batch }) {
		batch = 0 // a reply may speak of any of them
	}
	return r.enqueue(id, chat, batch, 2, say.Narrow(lines, r.bk.titles), []labelled{{say.Later, r.later(items)}})
}

// askedOnce leaves out what the same gravity answers that a more pressing one asks for,
// and whether a batch is still there, where something else is asked of it.
func askedOnce(items []schedule.Item) []schedule.Item {
	asked, spoken := map[int]bool{}, map[int]bool{}
	var out []schedule.Item
	for _, it := range schedule.Pressing(items) {
		n := batchOf(it)
		if n != 0 && (asksGravity[it.Rule] && asked[n] || it.Rule == silentRule && spoken[n]) {
			continue
		}
		asked[n], spoken[n] = asked[n] || asksGravity[it.Rule], true
		out = append(out, it)
	}
	return out
}

// silentRule asks whether a batch of which nothing was heard is still there.
const silentRule = "R41"

// oneLineEach gives each reminder its line in the day's message; those that ask the same
// of several batches share one, while it fits, which stands with the first of them.
func (r *reminding) oneLineEach(items []schedule.Item) (first []schedule.Item, line map[schedule.Key]string) {
	line = map[schedule.Key]string{}
	names := map[schedule.Key][]string{}
	for _, it := range items {
		r.nameBatch(&it)
		own := r.bk.style.ReminderShort(it.Rule, it.Args)
		name := say.ShortName(it.Args["batch"])
		joined := false
		for _, f := range first {
			if f.Rule != it.Rule || len(names[f.Key]) == 0 || batchOf(it) == 0 {
				continue
			}
			with := append(slices.Clone(names[f.Key]), name)
			if l, ok := r.bk.style.ShortOf(it.Rule, f.Args, it.Args, with); ok {
				line[f.Key], names[f.Key], joined = l, with, true
				break
			}
		}
		if !joined {
			first, line[it.Key] = append(first, it), own
			if batchOf(it) != 0 {
				names[it.Key] = []string{name}
			}
		}
	}
	return first, line
}

// roundUp tells the week of every batch in place of the day's message: what fell due
// with it stands in the line of its batch, so that nothing is lost by it.
func (r *reminding) roundUp(weekly schedule.Item, with []schedule.Item, chat int64) error {
	due := map[int][]say.Next{}
	var of []string
	for _, it := range schedule.Pressing(with) {
		r.nameBatch(&it)
		if n := batchOf(it); n == 0 {
			of = append(of, r.bk.style.ReminderShort(it.Rule, it.Args))
		} else {
			due[n] = append(due[n], say.Next{What: it.Rule, Do: say.Doing(it.Rule, it.Args)})
		}
	}
	lines := []string{"This week in the cellar:"}
	for _, s := range r.bk.open() {
		if s.Stage == ferment.Bottled && due[s.N] == nil {
			continue // it rests
		}
		next := due[s.N]
		if next == nil {
			items, err := r.plan(s)
			if err != nil {
				return err
			}
			next = nextSteps(s, items, r.bk.style)
		}
		lines = append(lines, r.bk.style.WeekLine(s, next)...)
	}
	id := r.made[weekly.Key]
	off := action{Do: doSaid, Key: weekly.Rule, Text: "Off", Value: float64(id), Action: weekly.Subject.Kind, Roots: []int64{weekly.Subject.N}}
	buttons := []labelled{{"Off", off}}
	if len(with) > 0 {
		buttons = append([]labelled{{say.Later, r.later(with)}}, buttons...)
	}
	return r.enqueue(id, chat, 0, 2, say.Narrow(append(lines, of...), r.bk.titles), buttons)
}

// later puts off all that went in one message.
func (r *reminding) later(items []schedule.Item) action {
	a := action{Do: doSnooze}
	for _, it := range items {
		a.Roots = append(a.Roots, r.made[it.Key])
	}
	return a
}

// labelled is a button before it is written.
type labelled struct {
	label string
	do    action
}

// enqueue writes a reminder to the outbox. id is that of the first that it tells.
func (r *reminding) enqueue(id, chat int64, batch, priority int, lines []string, buttons []labelled) error {
	out := store.Out{Book: r.bk.id, Chat: chat, Kind: "reply", Source: fmt.Sprintf("r%d", id), Text: say.Text(lines), Batch: batch, Priority: priority, Created: r.now}
	for _, b := range buttons {
		raw, err := json.Marshal(b.do)
		if err != nil {
			return err
		}
		out.Buttons = append(out.Buttons, store.Button{Label: b.label, Action: raw, Expires: r.now.Add(buttonLives)})
	}
	_, _, err := r.tx.Enqueue(out)
	return err
}
