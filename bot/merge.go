package bot

import (
	"strconv"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// A part that is drawn to within wholeShare of what the book has is taken to be all of it;
// more than overShare times what there is, is a slip (common practice, no source: a jar is
// known to some 15 %).
const (
	wholeShare = 0.97
	overShare  = 1.15
)

// merge puts wines together as the text says.
func (t *turn) merge(in parse.Intent) error {
	at, _ := in.Args["at"].(time.Time)
	day, _ := in.Args["day"].(bool)
	return t.pourAs(t.blendText(in), parse.When{At: at, Day: day})
}

// poured does what a text tells of a blend that is done. It reports false where the text
// names fewer than two wines: then the deed is kept as it was told.
func (t *turn) poured(said string, in parse.Intent) (bool, error) {
	p := t.bk.poured(said)
	if len(p.parts) == 0 || len(p.parts) == 1 && p.into == "" && p.unknown == "" {
		return false, nil
	}
	var when parse.When
	if len(in.Entries) > 0 {
		when = in.Entries[0].When
	}
	return true, t.pourAs(said, when)
}

// pourAs finds the parts, refuses what cannot be in one clear line, and writes the blend.
func (t *turn) pourAs(said string, when parse.When) error {
	p := t.bk.poured(said)
	target := t.byName(p.into)
	if target != nil && target.Stage == ferment.Empty {
		target = nil
	}
	refuse := func(lines []string) error {
		if err := t.tx.DropMessage(t.msg.ID); err != nil {
			return err
		}
		return t.reply(reply{Lines: lines, Whole: true})
	}
	switch {
	case p.unknown != "":
		return refuse(say.NoSuchBatch(p.unknown))
	case len(p.parts) == 0, len(p.parts) == 1 && (target == nil || target.N == p.parts[0].s.N):
		return refuse(t.bk.style.AskMerge())
	}
	for i := range p.parts {
		part := &p.parts[i]
		switch l := part.s.VolumeL; {
		case part.s.Stage == ferment.Bottled:
			return refuse(say.BottledAlready(part.s))
		case l > 0 && part.v > l*overShare:
			return refuse(t.bk.style.NotSoMuch(part.s, part.v))
		}
	}
	return t.pour(p, target, when)
}

// pour writes the blend: what came in stands with the batch that holds it now, what went
// out with those that it came from. The numbers of those are never given again.
func (t *turn) pour(p pouring, target *ferment.State, when parse.When) error {
	es := []ferment.Entry{}
	add := func(batch int, q ferment.Quantity, deed string) *ferment.Entry {
		e := t.row(parse.Entry{Quantity: string(q), Deed: deed, BatchN: batch, When: when})
		e.Ordinal = len(es)
		es = append(es, e)
		return &es[len(es)-1]
	}
	n := 0
	if target != nil {
		n = target.N
	} else {
		var err error
		if n, err = t.tx.NewBatch(t.bk.id, t.in.Now); err != nil {
			return err
		}
		name := say.Clip(p.into, 40)
		if name == "" {
			name = t.blendName(p.parts)
		}
		begun := add(n, ferment.QNewBatch, ferment.DeedBlended)
		begun.Text, begun.Type = say.Clip(name, 40), string(oneKind(p.parts))
	}
	for _, part := range p.parts {
		if part.s.N == n {
			continue // "blend elder and apple into elder": it is in there
		}
		came := add(n, ferment.QBlend, ferment.DeedBlended)
		came.Other, came.Material = part.s.N, part.s.Name
		if part.v > 0 {
			came.Value, came.Has, came.Unit, came.Typed = part.v, true, "L", strconv.FormatFloat(part.v, 'f', -1, 64)
		}
		if part.v == 0 || part.s.VolumeL > 0 && part.v >= part.s.VolumeL*wholeShare {
			gone := add(part.s.N, ferment.QEvent, ferment.DeedEmpty)
			gone.Other, gone.Text = n, "blended"
			continue
		}
		gone := add(part.s.N, ferment.QVolumeLoss, ferment.DeedDrawn)
		gone.Other, gone.Value, gone.Has, gone.Unit, gone.Typed = n, part.v, true, "L", came.Typed
	}
	if _, err := t.tx.AddEntries(t.bk.id, es); err != nil {
		return err
	}
	var err error
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	return t.pouredReceipt(t.bk.batch(n))
}

// blendAsked answers an imperative: with a name for what comes of it the blend is made,
// with litres alone it may be a question or a deed.
func (t *turn) blendAsked(in parse.Intent) (bool, error) {
	said := t.blendText(in)
	if in.Args["asked"] == true || !parse.Imperative(said) {
		return false, nil
	}
	p := t.bk.poured(said)
	if p.into != "" {
		return true, t.merge(in)
	}
	if len(p.parts) < 2 {
		return false, nil
	}
	work := choice{say.WorkItOut, action{Do: doMore, Key: parse.TopicBlend, Text: said}}
	done := choice{say.DoneAlready, action{Do: doMerge, Message: t.msg.ID, Text: said}}
	return true, t.reply(reply{Lines: say.WorkOrDone(), Whole: true, Buttons: []choice{work, done}})
}

// oneKind is the kind that all parts have, other where they differ.
func oneKind(parts []blended) ferment.Kind {
	k := parts[0].s.Kind
	for _, p := range parts {
		if p.s.Kind != k {
			return ferment.Other
		}
	}
	return k
}

func (t *turn) pouredReceipt(s *ferment.State) error {
	if s == nil {
		return t.reply(reply{Lines: say.Gone()})
	}
	var left []*ferment.State
	for _, c := range s.Came {
		if o := t.bk.batch(c.N); o != nil && c.At.Equal(s.Blended) {
			left = append(left, o)
		}
	}
	return t.reply(reply{Lines: t.bk.style.Poured(s, left, t.beware(s)), Batch: s.N, Whole: true,
		Buttons: append([]choice{{say.TypeGravity, action{Do: doType, Batch: s.N}}}, t.undoButton()...)})
}

// beware is the gravest thing that a blend has brought along; empty: nothing.
func (t *turn) beware(s *ferment.State) string {
	switch {
	case s.Has(ferment.Geranium):
		return say.BlendGeranium
	case !s.Pitched.IsZero() && (s.Stop.Shown.IsZero() || s.Stop.Verdict == ferment.StopStuck):
		return say.BlendWorking
	case s.IsSweet() && !s.Unguarded.IsZero():
		return say.BlendSweet
	case s.MLFOpen() || s.MLFUnknown():
		return say.BlendMalolactic
	}
	return ""
}

// fromOthers turns a topping with the wine of another batch into a small blend: its litres
// leave that batch.
func (t *turn) fromOthers(es []ferment.Entry) []ferment.Entry {
	out := make([]ferment.Entry, 0, len(es))
	for _, e := range es {
		var other *ferment.State
		if e.Quantity == ferment.QTopping && e.Has {
			other = t.byName(e.Material)
		}
		if other == nil || other.N == e.Batch {
			out = append(out, e)
			continue
		}
		e.Quantity, e.Other, e.Deed = ferment.QBlend, other.N, ferment.DeedToppedUp
		gone := e
		gone.Quantity, gone.Batch, gone.Other, gone.Deed, gone.Material = ferment.QVolumeLoss, other.N, e.Batch, ferment.DeedDrawn, ""
		out = append(out, e, gone)
	}
	return out
}

// takenBack tells what an undo took; of a blend, that its parts stand again.
func (t *turn) takenBack(es []ferment.Entry) []string {
	var others []string
	name := t.nameOf(es[0].Batch)
	for _, e := range es {
		if e.Quantity == ferment.QParent {
			return say.SplitBack(t.nameOf(e.Other))
		}
		if e.Quantity == ferment.QBlend && e.Deed == ferment.DeedBlended {
			name = t.nameOf(e.Batch)
			others = append(others, say.Title(t.nameOf(e.Other)))
		}
	}
	if len(others) > 0 {
		return say.PouredBack(name, others)
	}
	if of := t.doneToEach(es); len(of) > 1 {
		return t.doneLines(of, " taken back")
	}
	return say.TakenBack(t.bk.style, name, es)
}

// drawnToo lets what left another batch follow a corrected topping.
func (t *turn) drawnToo(old []ferment.Entry, came ferment.Entry, ordinal int) []ferment.Entry {
	if came.Quantity != ferment.QBlend {
		return nil
	}
	for _, e := range old {
		if e.Deed == ferment.DeedDrawn && e.Batch == came.Other && e.Other == came.Batch {
			e = t.again(e, ordinal)
			e.Value, e.Has, e.Unit, e.Typed = came.Value, came.Has, came.Unit, came.Typed
			return []ferment.Entry{e}
		}
	}
	return nil
}
