package bot

import (
	"slices"
	"strings"

	"mustbook/bot/say"
	"mustbook/schedule"
)

// told is a reminder on its way to a chat.
type told struct {
	schedule.Item
	id   int64 // its row; 0: not made yet
	chat int64
	due  bool // false: it falls due a little later and may go along
}

// byTheHour makes what goes at its own time. Equal reminders of several batches are one
// message with all their names, and what is asked of the same batches in the same minute
// is one: a phone that rings four times for one bucket is soon put away. Each stays a
// reminder of its own, answered and moot for itself.
func (r *reminding) byTheHour(due, soon []schedule.Item) error {
	var all []told
	for i, it := range append(slices.Clone(due), soon...) {
		chat, ok, err := r.chatFor(it)
		if err != nil {
			return err
		}
		if ok {
			all = append(all, told{Item: it, chat: chat, due: i < len(due)})
		}
	}
	if err := r.readOnce(all); err != nil {
		return err
	}
	for _, message := range r.messages(all) {
		if !slices.ContainsFunc(message, func(x told) bool { return x.due }) {
			continue // it waits for its time
		}
		if err := r.makeTogether(message, 1); err != nil {
			return err
		}
	}
	return nil
}

// makeTogether makes reminders of one chat, and sends as one message what was not made before.
func (r *reminding) makeTogether(xs []told, priority int) error {
	var fresh []told
	for _, x := range xs {
		id, ok, err := r.note(x.Item)
		if err != nil {
			return err
		}
		if x.id = id; ok {
			fresh = append(fresh, x)
		}
	}
	return r.sendTogether(fresh, priority)
}

// messages parts reminders into messages: those of one chat that say the same of several
// batches, with whatever else is asked of just these batches.
func (r *reminding) messages(all []told) [][]told {
	var out [][]told
	for _, u := range r.units(all) {
		i := slices.IndexFunc(out, func(m []told) bool {
			return m[0].chat == u[0].chat && schedule.Gathers(m[0].Rule) && schedule.Gathers(u[0].Rule) && slices.Equal(batchesOf(m), batchesOf(u))
		})
		if i < 0 {
			out = append(out, u)
		} else {
			out[i] = append(out[i], u...)
		}
	}
	return out
}

// units puts reminders together that say the same, but for the name of the batch.
func (r *reminding) units(all []told) [][]told {
	var out [][]told
	for _, x := range all {
		i := slices.IndexFunc(out, func(u []told) bool { return u[0].chat == x.chat && r.alike(u[0].Item, x.Item) })
		if i < 0 {
			out = append(out, []told{x})
		} else {
			out[i] = append(out[i], x)
		}
	}
	for _, u := range out {
		slices.SortStableFunc(u, func(a, b told) int { return batchOf(a.Item) - batchOf(b.Item) })
	}
	return out
}

// alike reports two reminders that one message can tell: the same asked of two batches,
// or what two people wanted to be reminded of.
func (r *reminding) alike(a, b schedule.Item) bool {
	if a.Rule != b.Rule {
		return false
	}
	if a.Rule == ownRule {
		return a.Subject == b.Subject && strings.EqualFold(a.Args["what"], b.Args["what"])
	}
	return schedule.Shared(a.Rule) && r.bk.style.SameReminder(a.Rule, a.Args, b.Args)
}

// batchesOf are the batches that reminders speak of, in order.
func batchesOf(xs []told) []int {
	var ns []int
	for _, x := range xs {
		ns = append(ns, batchOf(x.Item))
	}
	slices.Sort(ns)
	return slices.Compact(ns)
}

// readOnce sends what one member wanted in private and somebody else for all to where all
// read it, if that member reads along there: nobody is told the same twice.
func (r *reminding) readOnce(all []told) error {
	for i := range all {
		own := r.chats[all[i].chat]
		if all[i].Rule != ownRule || own.Group() {
			continue
		}
		for _, x := range all {
			if !r.chats[x.chat].Group() || !x.due || !r.alike(all[i].Item, x.Item) {
				continue
			}
			here, err := r.tx.MembersOf(x.chat)
			if err != nil {
				return err
			}
			for _, m := range here {
				if m.ID == own.Member {
					all[i].chat = x.chat
				}
			}
		}
	}
	return nil
}

// mostButtons is how many buttons of a shared message stay readable; beyond it fewer have
// one for each batch, which can be typed: "stirred damson".
const mostButtons = 7

// sendTogether writes reminders of one chat to the outbox as one message.
func (r *reminding) sendTogether(xs []told, priority int) error {
	switch len(xs) {
	case 0:
		return nil
	case 1:
		return r.send(xs[0].Item, xs[0].id, xs[0].chat, priority)
	}
	batch, names := 0, r.namesOf(batchesOf(xs))
	if len(names) == 1 {
		batch = batchOf(xs[0].Item)
	}
	units := r.units(xs)
	var lines []string
	for i, u := range units {
		it := u[0].Item
		r.nameBatch(&it)
		if it.Rule == ownRule {
			lines, _ = r.text(it)
			continue
		}
		lines = append(lines, r.bk.style.ReminderOf(it.Rule, it.Args, names, i == 0)...)
	}
	buttons := r.shared(units, names, len(units))
	for each := min(1, len(units)-1); len(buttons) > mostButtons && each >= 0; each-- {
		buttons = r.shared(units, names, each)
	}
	return r.enqueue(xs[0].id, xs[0].chat, batch, priority, lines, buttons)
}

// namesOf are the names of batches as a button has room for them; of two that begin alike
// their numbers.
func (r *reminding) namesOf(ns []int) []string {
	var names []string
	for _, n := range ns {
		if s := r.bk.batch(n); s != nil {
			names = append(names, say.ShortName(s.Name))
		}
	}
	for i, n := range names {
		if slices.Index(names, n) < i {
			for j := range names {
				names[j] = say.ByNumber(ns[j])
			}
			break
		}
	}
	return names
}

// shared are the buttons under reminders that went as one message. Of the first of them,
// as many as each says, what is a fact of one batch has a button for each batch too.
func (r *reminding) shared(units [][]told, names []string, each int) []labelled {
	var out []labelled
	asked := map[string]bool{}
	for i, u := range units {
		several := len(names) > 1
		_, labels := r.text(u[0].Item)
		for _, l := range labels {
			e := schedule.Answer(u[0].Rule, l)
			if e.Ask != "" && asked[l] {
				continue // one number answers both
			}
			asked[l] = true
			shown := r.labelAmong(l, u[0].Rule, units)
			if fact := e.Deed != "" || e.Show != ""; several && fact {
				if e.Show == "" { // else it speaks of one batch
					out = append(out, under(u, l, say.ForAll(shown, len(u))))
				}
				for j := range u {
					if i < each || e.Show != "" {
						out = append(out, under(u[j:j+1], l, say.ForOne(shown, names[j])))
					}
				}
				continue
			}
			out = append(out, under(u, l, shown))
		}
	}
	return out
}

// under is a button that answers some reminders of one rule, shown with a label of its own.
func under(xs []told, label, shown string) labelled {
	a := action{Do: doSaidAll, Key: xs[0].Rule, Text: label}
	for _, x := range xs {
		a.Roots = append(a.Roots, x.id)
	}
	return labelled{shown, a}
}

// labelAmong is a label as it stands in a message of several reminders: with what it is
// about, where another of them has the same.
func (r *reminding) labelAmong(label, rule string, units [][]told) string {
	for _, u := range units {
		if u[0].Rule == rule {
			continue
		}
		if _, labels := r.text(u[0].Item); slices.Contains(labels, label) && schedule.Answer(rule, label).Ask == "" {
			return say.About(say.ReminderName(rule), label)
		}
	}
	return label
}
