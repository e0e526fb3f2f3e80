package bot

import (
	"slices"
	"strings"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
)

// said is what one message told of one batch in one deed: what "the racking on 3 May" is.
type said struct {
	message int64
	es      []ferment.Entry
}

// undoNamed takes back what a text describes: "undo the racking on 3 may". It may be any
// time ago. Where several things fit, it asks which.
func (t *turn) undoNamed(in parse.Intent) error {
	found := t.described(in)
	switch len(found) {
	case 0:
		return t.reply(reply{Lines: say.NothingLikeIt(), Whole: true})
	case 1:
		return t.takeOut(found[0])
	}
	r := reply{Lines: say.WhichOfThem(len(found)), Whole: true}
	for _, f := range found[:min(len(found), 4)] {
		r.Buttons = append(r.Buttons, choice{t.bk.style.Described(t.nameOf(f.es[0].Batch), f.es), action{Do: doTakeOut, Message: f.message, Roots: rootsOf(f.es)}})
	}
	return t.reply(r)
}

// described finds what fits, the newest first.
func (t *turn) described(in parse.Intent) []said {
	var out []said
	for _, s := range t.bk.batches {
		if in.Batch != 0 && s.N != in.Batch {
			continue
		}
		for _, e := range t.bk.entries[s.N] {
			if !t.fits(e, in.Args) {
				continue
			}
			if i := slices.IndexFunc(out, func(x said) bool { return x.message == e.Message && x.es[0].Batch == e.Batch }); i >= 0 {
				out[i].es = append(out[i].es, e)
				continue
			}
			out = append(out, said{e.Message, []ferment.Entry{e}})
		}
	}
	for i := range out {
		out[i].es = t.wholeOf(out[i].es)
	}
	slices.SortStableFunc(out, func(a, b said) int { return b.es[0].At.Compare(a.es[0].At) })
	if len(out) == 0 && in.Batch != 0 { // not in the batch last spoken of: in any other
		in.Batch = 0
		return t.described(in)
	}
	return out
}

// fits reports an entry that a description fits. What a batch was begun with, its settings
// and its name go by other words.
func (t *turn) fits(e ferment.Entry, args map[string]any) bool {
	switch e.Quantity {
	case ferment.QNewBatch, ferment.QParent, ferment.QSetting, ferment.QName, ferment.QTemp:
		return false
	}
	if e.Deed == ferment.DeedDrawn || e.Deed == ferment.DeedEmpty && e.Other != 0 {
		return false // goes with the blend
	}
	if when := text(args, "when"); when != "" && when != "now" && !strings.HasPrefix(e.At.In(t.bk.zone).Format("2006-01-02T15:04"), when) {
		return false
	}
	deed, material, quantity := text(args, "deed"), text(args, "material"), text(args, "quantity")
	value, hasValue := number(args, "value")
	switch {
	case deed != "" && e.Deed != deed:
		return false
	case material != "" && !strings.Contains(strings.ToLower(e.Material), material):
		return false
	case quantity != "" && string(e.Quantity) != quantity && !(quantity == "sg" && ferment.IsGravity(e.Quantity)):
		return false
	case hasValue && (!e.Has || e.Value != value):
		return false
	case deed == "" && material == "" && quantity == "" && !hasValue:
		return ferment.IsGravity(e.Quantity) // "the reading of yesterday"
	}
	return true
}

// wholeOf adds what belongs to it: a gravity's temperature.
func (t *turn) wholeOf(es []ferment.Entry) []ferment.Entry {
	for _, e := range t.bk.entries[es[0].Batch] {
		of := slices.ContainsFunc(es, func(g ferment.Entry) bool {
			return ferment.IsGravity(g.Quantity) && (e.Of == g.Root || e.Of == 0 && e.Message == g.Message && e.At.Equal(g.At))
		})
		if e.Quantity == ferment.QTemp && of {
			es = append(es, e)
		}
	}
	return es
}

// takeOut voids entries; a blend or a topping goes with all that its message did to other
// batches.
func (t *turn) takeOut(f said) error {
	for _, e := range f.es {
		if e.Quantity == ferment.QBlend {
			return t.takeBack(f.message, 0)
		}
	}
	if err := t.tx.VoidRoots(t.bk.id, rootsOf(f.es), t.in.Member.ID, t.in.At); err != nil {
		return err
	}
	lines := t.takenBack(f.es)
	var err error
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	return t.reply(reply{Lines: lines, Batch: f.es[0].Batch,
		Buttons: []choice{{say.PutBack, action{Do: doRedo, Roots: rootsOf(f.es)}}}})
}

// editNamed changes an entry that a day names: "change sunday's reading to 1.044". It
// reports false where the text names none, but means the newest.
func (t *turn) editNamed(in parse.Intent) (bool, error) {
	if len(in.Entries) != 1 || in.Entries[0].When.Now() || in.Entries[0].Value == nil {
		return false, nil
	}
	p := in.Entries[0]
	q := p.Quantity
	if ferment.IsGravity(ferment.Quantity(q)) {
		q = "sg"
	}
	n := in.Batch
	if p.BatchN != 0 {
		n = p.BatchN
	}
	found := t.described(parse.Intent{Batch: n, Args: map[string]any{"quantity": q, "when": p.When.String()}})
	if len(found) != 1 {
		return true, t.reply(reply{Lines: say.NothingLikeIt(), Whole: true})
	}
	e := t.again(found[0].es[0], 0)
	v := t.row(p)
	e.Quantity, e.Value, e.Has, e.Unit, e.Typed = v.Quantity, v.Value, v.Has, v.Unit, v.Typed
	es := append([]ferment.Entry{e}, t.keepSample(found[0].es, e, 1)...)
	out, err := t.tx.AddEntries(t.bk.id, es)
	if err != nil {
		return true, err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return true, err
	}
	return true, t.receipt(parse.Intent{Kind: parse.Correction, Action: in.Action}, out, nil)
}

// takeOutAs takes back the one of several that a tap has chosen.
func (t *turn) takeOutAs(a action) error {
	var es []ferment.Entry
	for _, root := range a.Roots {
		if e, err := t.tx.Entry(t.bk.id, root); err == nil {
			es = append(es, e)
		}
	}
	if len(es) == 0 {
		return t.reply(reply{Lines: say.AlreadyBack()})
	}
	return t.takeOut(said{a.Message, es})
}
