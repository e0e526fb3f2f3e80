package bot

import (
	"slices"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// receipt answers what was stored or repaired with what it means.
func (t *turn) receipt(in parse.Intent, es []ferment.Entry, before *book) error {
	if len(es) == 0 {
		return nil
	}
	if in.Kind == parse.NewBatch {
		return t.begunReceipt(in, es)
	}
	if in.Why == parse.WhyPlan && t.bk.batch(es[0].Batch) != nil {
		return t.reply(reply{Lines: say.PlanNoted(t.bk.batch(es[0].Batch), es[0].Text), Batch: es[0].Batch, Plain: true, Buttons: t.undoButton()})
	}
	if g, ok := lastGravity(es); ok {
		if multiple(es) {
			return t.severalReceipt(es)
		}
		return t.readingReceipt(g)
	}
	if es[0].Quantity == ferment.QTemp && es[0].Of != 0 || len(es) == 1 && es[0].Quantity == ferment.QTemp {
		if g, ok := t.completed(es[0]); ok {
			return t.readingReceipt(g)
		}
	}
	return t.deedReceipt(es)
}

func lastGravity(es []ferment.Entry) (ferment.Entry, bool) {
	for i := len(es) - 1; i >= 0; i-- {
		if ferment.IsGravity(es[i].Quantity) && es[i].Has {
			return es[i], true
		}
	}
	return ferment.Entry{}, false
}

// multiple reports gravities of several batches or several times.
func multiple(es []ferment.Entry) bool {
	n := 0
	for _, e := range es {
		if ferment.IsGravity(e.Quantity) {
			n++
		}
	}
	return n > 1
}

// completed finds the gravity that a lone temperature belongs to.
func (t *turn) completed(e ferment.Entry) (ferment.Entry, bool) {
	for _, x := range t.bk.entries[e.Batch] {
		if x.Root == e.Root && x.Of != 0 {
			g, err := t.tx.Entry(t.bk.id, x.Of)
			return g, err == nil
		}
	}
	return ferment.Entry{}, false
}

// undoButton is under what was entered; a deed that a tap logged for now may have
// been done earlier.
func (t *turn) undoButton() []choice {
	undo := choice{say.Undo, action{Do: doUndo, Message: t.msg.ID}}
	if t.earlier {
		return []choice{{say.Earlier, action{Do: doEarlier}}, undo}
	}
	return []choice{undo}
}

func (t *turn) begunReceipt(in parse.Intent, es []ferment.Entry) error {
	s := t.bk.batch(es[0].Batch)
	if s == nil {
		return nil
	}
	buttons := append([]choice{{say.TypeGravity, action{Do: doType, Batch: s.N}}}, t.undoButton()...)
	if g, ok := lastGravity(es); ok {
		if err := t.readingReceipt(g); err != nil {
			return err
		}
		return t.setFocus(s.N)
	}
	careful, err := t.caution(s, es)
	if err != nil {
		return err
	}
	return t.reply(reply{Lines: append(t.bk.style.Begun(s), careful...), Batch: s.N, Buttons: buttons})
}

// readingReceipt answers one gravity.
func (t *turn) readingReceipt(g ferment.Entry) error {
	s := t.bk.batch(g.Batch)
	if s == nil {
		return t.reply(reply{Lines: []string{"Kept."}})
	}
	r, prev := findReading(s, g.Root)
	if r == nil {
		return t.reply(reply{Lines: t.bk.style.Noted(s, []ferment.Entry{g}, nil), Batch: s.N, Buttons: t.undoButton()})
	}
	o := t.b.outlook(t.tx, t.bk, s, t.in.Quick)
	next := t.nextOf(s)
	out := reply{Lines: t.bk.style.Reading(s, *r, prev, o.say(), next), Batch: s.N}
	out.Buttons = t.readingButtons(s, r)
	if firstSign(s, r) {
		out.Lines[len(out.Lines)-1] = t.bk.style.PitchAssumed(s)
		at := parse.When{At: s.Pitched.In(t.bk.zone), Day: s.PitchDay}
		out.Buttons = append([]choice{{say.Right, action{Do: doPitched, Batch: s.N, Entries: []parse.Entry{{
			Quantity: string(ferment.QEvent), Deed: ferment.DeedPitched, Batch: s.Name, BatchN: s.N, When: at}}}}}, out.Buttons...)
	}
	return t.reply(out)
}

// firstSign reports the reading by whose fall the yeast was assumed to be in, nobody having
// said so: that is asked about once.
func firstSign(s *ferment.State, r *ferment.Reading) bool {
	if !s.PitchAssumed || s.Bottled.After(s.Pitched) {
		return false
	}
	for i := range s.Readings {
		if x := &s.Readings[i]; x.Counts && x.At.After(s.Pitched) && x.SG < s.OG {
			return x.Entry.Root == r.Entry.Root
		}
	}
	return false
}

func (t *turn) readingButtons(s *ferment.State, r *ferment.Reading) []choice {
	var out []choice
	switch {
	case s.Sheet == ferment.SheetUnder && s.Pitched.IsZero():
		out = append(out, choice{say.WellStirred, action{Do: doDeed, Batch: s.N, Key: ferment.DeedStirred}})
	case s.Stop.Verdict == ferment.StopAsk:
		out = append(out, choice{say.DryEnough, action{Do: doSet, Batch: s.N, Key: ferment.SetDryEnough, Text: "on"}},
			choice{say.MeantSweet, action{Do: doSet, Batch: s.N, Key: ferment.SetMeantSweet, Text: "on"}})
	case s.Has(ferment.Stuck):
		out = append(out, choice{say.MeantSweet, action{Do: doSet, Batch: s.N, Key: ferment.SetMeantSweet, Text: "on"}},
			choice{say.Steps, action{Do: doMore, Batch: s.N, Key: parse.TopicIsStuck}})
	case r.Taken:
		for _, c := range t.temperatures() {
			out = append(out, choice{c.label, action{Do: doTemp, Roots: []int64{r.Entry.Root}, Value: c.value, Key: c.unit}})
		}
	}
	if !r.Taken {
		out = append(out, choice{say.More, action{Do: doMore, Batch: s.N, Key: parse.TopicMore}})
	}
	return append(out, choice{say.Undo, action{Do: doUndo, Message: t.msg.ID}})
}

type tempChoice struct {
	label string
	value float64
	unit  string
}

// temperatures are the four that a tap may give a gravity typed without one.
func (t *turn) temperatures() []tempChoice {
	if t.bk.house.Units == "us" {
		return []tempChoice{{"64", 64, "F"}, {"68", 68, "F"}, {"72", 72, "F"}, {"76 °F", 76, "F"}}
	}
	return []tempChoice{{"18", 18, "C"}, {"20", 20, "C"}, {"22", 22, "C"}, {"24 °C", 24, "C"}}
}

func findReading(s *ferment.State, root int64) (r, prev *ferment.Reading) {
	for i := range s.Readings {
		if s.Readings[i].Entry.Root == root {
			return &s.Readings[i], prev
		}
		if s.Readings[i].Counts {
			prev = &s.Readings[i]
		}
	}
	return nil, nil
}

// severalReceipt answers several gravities with a line each.
func (t *turn) severalReceipt(es []ferment.Entry) error {
	var lines []string
	batch := 0
	for _, e := range es {
		if !ferment.IsGravity(e.Quantity) {
			continue
		}
		s := t.bk.batch(e.Batch)
		if s == nil {
			continue
		}
		if r, _ := findReading(s, e.Root); r != nil {
			lines = append(lines, t.bk.style.Short(s, *r))
			batch = s.N
		}
	}
	if n := len(lines); n > say.Depth {
		lines = append([]string{say.Count(n)}, lines[0], lines[n-1])
	}
	return t.reply(reply{Lines: lines, Batch: batch, Whole: true, Buttons: t.undoButton()})
}

// deedReceipt answers a deed, an addition, a note.
func (t *turn) deedReceipt(es []ferment.Entry) error {
	if of := t.doneToEach(es); len(of) > 1 {
		return t.eachReceipt(of)
	}
	s := t.bk.batch(es[0].Batch)
	n := 0
	if s != nil {
		n = s.N
	}
	st := t.bk.style
	if s != nil && es[0].Quantity == ferment.QNewBatch && es[0].Deed == ferment.DeedBlended {
		return t.pouredReceipt(s)
	}
	if s != nil && len(es) == 1 && es[0].Quantity == ferment.QBottles {
		if done, err := t.countReceipt(s, es[0]); done || err != nil {
			return err
		}
	}
	if e := es[0]; s != nil && e.Quantity == ferment.QBlend && e.Deed == ferment.DeedToppedUp && t.bk.batch(e.Other) != nil {
		l, _ := ferment.LitresOf(e.Value, e.Unit)
		return t.reply(reply{Lines: st.Topped(s, t.bk.batch(e.Other), l, t.beware(s)), Batch: n, Whole: true, Buttons: t.undoButton()})
	}
	if s != nil && es[0].Deed == ferment.DeedPitched {
		again := !s.Repitched.IsZero() && s.RepitchRoot == es[0].Root
		careful, err := t.caution(s, es)
		if err != nil {
			return err
		}
		return t.reply(reply{Lines: append(st.Pitched(s, es[0].At, again, asksAt(t.nextOf(s))), careful...), Batch: n, Buttons: t.undoButton()})
	}
	if s != nil {
		if advice := t.advice(s, es); advice != nil {
			head := st.Noted(s, es, nil)
			if len(head) > 1 {
				head = []string{say.Title(s.Name) + ": noted"}
			}
			return t.reply(reply{Lines: append(head, advice...), Batch: n, Whole: true, Buttons: t.undoButton()})
		}
	}
	var next []say.Next
	if s != nil {
		next = t.nextOf(s)
	}
	lines := st.Noted(s, es, next)
	var caution []string
	if s != nil {
		var err error
		if caution, err = t.caution(s, es); err != nil {
			return err
		}
	}
	if t.in.Kind == Text && t.in.Chat.Group() && caution == nil && quiet(es) {
		return t.reply(reply{Lines: lines, Reaction: thumb, Batch: n, Plain: true})
	}
	r := reply{Lines: append(lines, caution...), Batch: n, Plain: true, Buttons: t.undoButton()}
	if t.in.Chat.Group() {
		r.Lines, r.Whole = shortened(st.Noted(s, es, nil), next, caution, st), true
	}
	return t.reply(r)
}

// shortened is a receipt for a group: what was noted, and the caution, or else what comes
// next. A sentence of two lines is said whole or not at all.
func shortened(head []string, next []say.Next, caution []string, st say.Style) []string {
	lines := append(slices.Clone(head), caution...)
	if len(caution) == 0 && len(head) < 3 {
		if l := st.NextLine(next, say.Outlook{}); l != "" {
			lines = append(lines, l)
		}
	}
	return lines
}
