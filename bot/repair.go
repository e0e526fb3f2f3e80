package bot

import (
	"context"
	"errors"
	"slices"
	"strings"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// repair does a correction: the old rows stay, newer ones supersede them.
func (t *turn) repair(in parse.Intent) error {
	switch in.Action {
	case "delete_last":
		return t.undo(in.Whose)
	case "redo":
		return t.redo()
	case "rename":
		return t.rename(in)
	case "delete_entry":
		return t.undoNamed(in)
	case "edit_entry":
		if done, err := t.editNamed(in); done || err != nil {
			return err
		}
	}
	m, err := t.repairable(in.Whose)
	if q, asked := t.asked(); asked == nil && q.Kind == "amount" && in.Action == "edit_entry" {
		if m, err = t.tx.Message(t.bk.id, q.Message); err == nil {
			err = t.tx.CloseQuestion(t.bk.id, q.Message)
		}
	}
	if errors.Is(err, store.ErrNotFound) {
		return t.reply(reply{Lines: say.NothingToRepair()})
	}
	if err != nil {
		return err
	}
	old, err := t.tx.EntriesOfMessage(t.bk.id, m.ID)
	if err != nil {
		return err
	}
	if in.Action == "replace_last" || in.Action == "edit_field" {
		if old, err = t.withGravity(old, in); err != nil {
			return err
		}
	}
	old = t.breath(old)
	var es []ferment.Entry
	switch in.Action {
	case "move_last":
		es = t.moved(old, in)
	case "retime_last":
		es = t.retimed(old, in)
	default:
		es = t.replaced(old, in)
	}
	if len(es) == 0 {
		return t.reply(reply{Lines: say.NothingToRepair()})
	}
	out, err := t.tx.AddEntries(t.bk.id, es)
	if err != nil {
		return err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	return t.receipt(parse.Intent{Kind: parse.Correction, Action: in.Action}, out, nil)
}

// repairable is the message that a correction of this sender means: the sender's own
// newest, else that of all; of all where whose says so.
func (t *turn) repairable(whose string) (store.Message, error) {
	since := t.in.At.Add(-undoWindow)
	if whose == parse.Theirs {
		return t.tx.NewestOfAll(t.bk.id, since)
	}
	own, err := t.tx.NewestOf(t.bk.id, t.in.Member.ID, since)
	if err == nil || !errors.Is(err, store.ErrNotFound) {
		return own, err
	}
	return t.tx.NewestOfAll(t.bk.id, since)
}

// withGravity is, where a gravity is put right and the newest message has no figure at all,
// the sender's newest that has one: "racked", then "no, 1.028" is about the reading before.
func (t *turn) withGravity(old []ferment.Entry, in parse.Intent) ([]ferment.Entry, error) {
	figure := func(e ferment.Entry) bool { return e.Has }
	if len(in.Entries) == 0 || !ferment.IsGravity(ferment.Quantity(in.Entries[0].Quantity)) || len(old) == 0 || slices.ContainsFunc(old, figure) {
		return old, nil
	}
	since := t.in.At.Add(-undoWindow)
	meant := t.bk.newest(func(e *ferment.Entry) bool {
		return ferment.IsGravity(e.Quantity) && e.Batch == old[0].Batch && e.Author == t.in.Member.ID && !e.TypedAt.Before(since)
	})
	if meant == nil {
		return old, nil
	}
	return t.tx.EntriesOfMessage(t.bk.id, meant.Message)
}

// breath adds to the entries of a message what was said in one breath with the first.
func (t *turn) breath(es []ferment.Entry) []ferment.Entry {
	if len(es) == 0 || es[0].Batch == 0 {
		return es
	}
	for _, e := range t.bk.together(es[0]) {
		if !slices.ContainsFunc(es, func(x ferment.Entry) bool { return x.Root == e.Root }) {
			es = append(es, e)
		}
	}
	return es
}

// again prepares a row that supersedes an old one under this message.
func (t *turn) again(e ferment.Entry, i int) ferment.Entry {
	e.Ordinal = i
	if t.msg.ID != 0 {
		e.Message = t.msg.ID
	}
	e.Author, e.AuthorName, e.TypedAt = t.in.Member.ID, t.in.Member.Name, t.in.At
	return e
}

func (t *turn) moved(old []ferment.Entry, in parse.Intent) []ferment.Entry {
	var es []ferment.Entry
	if len(in.Entries) == 0 {
		return nil
	}
	p := in.Entries[0]
	n := p.BatchN
	if s := t.byName(p.Batch); n == 0 && s != nil {
		n = s.N
	}
	for i, e := range old {
		e = t.again(e, i)
		e.Batch = n
		es = append(es, e)
	}
	return es
}

func (t *turn) retimed(old []ferment.Entry, in parse.Intent) []ferment.Entry {
	if len(in.Entries) == 0 {
		return nil
	}
	when := t.row(in.Entries[0])
	var es []ferment.Entry
	for i, e := range old {
		e = t.again(e, i)
		e.At, e.DayOnly = when.At, when.DayOnly
		es = append(es, e)
	}
	return es
}

// replaced gives the entry of the same quantity its new value; a value of a new
// quantity is added beside it.
func (t *turn) replaced(old []ferment.Entry, in parse.Intent) []ferment.Entry {
	var es []ferment.Entry
	for i, p := range in.Entries {
		hit := slices.IndexFunc(old, func(e ferment.Entry) bool {
			return string(e.Quantity) == p.Quantity && p.Material != "" && e.Material == p.Material
		})
		for j, e := range old {
			if hit >= 0 {
				break
			}
			if string(e.Quantity) == p.Quantity || e.Quantity == ferment.QBlend && (p.Quantity == string(ferment.QTopping) || p.Quantity == string(ferment.QVolume)) || ferment.IsGravity(e.Quantity) && ferment.IsGravity(ferment.Quantity(p.Quantity)) {
				hit = j
				break
			}
		}
		if hit < 0 {
			e := t.row(p)
			if len(old) > 0 {
				e.At, e.DayOnly, e.Batch = old[0].At, old[0].DayOnly, old[0].Batch
				if e.Quantity == ferment.QTemp && ferment.IsGravity(old[0].Quantity) {
					e.Of = old[0].Root
				}
			}
			e.Ordinal = i
			es = append(es, e)
			continue
		}
		e := t.again(old[hit], i)
		n := t.row(p)
		if e.Quantity != ferment.QBlend { // litres of another batch stay that
			e.Quantity = n.Quantity
		}
		e.Value, e.Has, e.Unit, e.Typed = n.Value, n.Has, n.Unit, n.Typed
		if n.Material != "" {
			e.Material = n.Material
		}
		if n.Text != "" {
			e.Text = n.Text
		}
		es = append(es, e)
		es = append(es, t.keepSample(old, e, len(in.Entries)+len(es))...)
		es = append(es, t.drawnToo(old, e, len(in.Entries)+len(es))...)
	}
	return es
}

// keepSample ties the temperature typed beside a gravity to it, before the gravity
// moves to the message that corrects it.
func (t *turn) keepSample(old []ferment.Entry, g ferment.Entry, ordinal int) []ferment.Entry {
	if !ferment.IsGravity(g.Quantity) || g.Root == 0 {
		return nil
	}
	for _, e := range old {
		if e.Quantity == ferment.QTemp && e.Of == 0 && (e.Type == "" || e.Type == "sample") {
			e = t.again(e, ordinal)
			e.Of = g.Root
			return []ferment.Entry{e}
		}
	}
	return nil
}

func (t *turn) rename(in parse.Intent) error {
	name, n := "", in.Batch
	for _, e := range in.Entries {
		if e.Quantity == string(ferment.QName) {
			name = e.Text
			if e.BatchN != 0 {
				n = e.BatchN
			}
		}
	}
	s := t.bk.batch(n)
	if s == nil || name == "" {
		return t.reply(reply{Lines: say.WhichBatch()})
	}
	old := s.Name
	if _, err := t.set(n, ferment.Entry{Quantity: ferment.QName, Text: say.Clip(name, 40)}); err != nil {
		return err
	}
	return t.reply(reply{Lines: say.Renamed(old, name), Batch: n, Buttons: t.undoButton()})
}

// undo takes back all that the sender's newest message put in the book.
func (t *turn) undo(whose string) error {
	m, err := t.repairable(whose)
	if errors.Is(err, store.ErrNotFound) {
		return t.reply(reply{Lines: say.NothingToUndo()})
	}
	if err != nil {
		return err
	}
	return t.takeBack(m.ID, 0)
}

// takeBack reverts what a message put in the book: what it added is void, what it
// repaired stands again as it was before.
func (t *turn) takeBack(message, out int64) error {
	if m, err := t.tx.Message(t.bk.id, message); err == nil && m.Kind == importKind {
		return t.takeImportBack(m, out)
	}
	es, err := t.tx.EntriesOfMessage(t.bk.id, message)
	if err != nil {
		return err
	}
	if len(es) == 0 {
		return t.reply(reply{Lines: say.AlreadyBack()})
	}
	var roots []int64
	for _, e := range es {
		roots = append(roots, e.Root)
		if err := t.revert(e, message); err != nil {
			return err
		}
	}
	lines := t.takenBack(es)
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	moved := true // nothing but the time was changed, and that is what is taken back
	var stands []string
	for _, e := range es {
		now, err := t.tx.Entry(t.bk.id, e.Root)
		moved = moved && err == nil && now.Typed == e.Typed && now.Unit == e.Unit && now.Batch == e.Batch && !now.At.Equal(e.At)
		switch {
		case err != nil:
		case now.Batch != e.Batch && len(stands) == 0:
			stands = say.InAgain(t.nameOf(now.Batch))
		case now.Typed != e.Typed && e.Deed != ferment.DeedDrawn:
			stands = append(stands, t.bk.style.StandsAgain(now))
		}
	}
	if lines = append(lines, stands...); moved {
		now, err := t.tx.Entry(t.bk.id, es[0].Root)
		if err != nil {
			return err
		}
		lines = t.bk.style.TimeAgain(t.nameOf(now.Batch), now)
	}
	t.edits = out
	return t.reply(reply{Lines: lines, Batch: es[0].Batch,
		Buttons: []choice{{say.PutBack, action{Do: doRedo, Message: message, Roots: roots}}}})
}

func (t *turn) revert(e ferment.Entry, message int64) error {
	chain, err := t.tx.Chain(t.bk.id, e.Root)
	if err != nil {
		return err
	}
	var before *ferment.Entry // as it stood before this message first touched it
	for i := range chain {
		if chain[i].Message == message {
			break
		}
		if before = nil; !chain[i].Void {
			before = &chain[i].Entry
		}
	}
	if before != nil {
		_, err := t.tx.AddEntries(t.bk.id, []ferment.Entry{*before})
		return err
	}
	return t.tx.VoidRoots(t.bk.id, []int64{e.Root}, t.in.Member.ID, t.in.At)
}

// edited repairs what a message said by its new text: rows keep their roots, so
// that what was reminded of is not said again.
func (b *Bot) edited(ctx context.Context, tx *store.Tx, in Incoming) error {
	m, err := tx.MessageByKey(in.OriginChat, in.MessageID)
	if errors.Is(err, store.ErrNotFound) {
		in.Kind = Text // the message of before made nothing, or came while we were away
		return b.text(ctx, tx, in)
	}
	if err != nil || m.Book != in.Chat.Book || strings.TrimSpace(m.Text) == strings.TrimSpace(in.Text) || m.EditDate.After(in.At) {
		return err
	}
	if err := tx.UpdateMessageText(m.Book, m.ID, in.Text, in.At); err != nil {
		return err
	}
	old, err := tx.EntriesOfMessage(m.Book, m.ID)
	if err != nil {
		return err
	}
	bk, err := b.load(tx, m.Book, m.At, m.ID)
	if err != nil {
		return err
	}
	t := &turn{b: b, ctx: ctx, tx: tx, in: in, bk: bk, msg: m}
	if o, err := tx.OutOf(m.ID); err == nil {
		t.edits = o.ID
	}
	t.in.At = m.At
	pc, err := t.context()
	if err != nil {
		return err
	}
	pc.Pending = nil
	if len(old) > 0 && pc.Active == 0 {
		pc.Active = old[0].Batch
	}
	got := parse.Message(parse.Spoken(in.Text, pc.BotName), pc)
	switch got.Kind {
	case parse.Readings, parse.Event, parse.NewBatch:
		return t.editedTo(got, old)
	case parse.Ignore:
		return t.voidAll(old)
	}
	if err := tx.VoidRoots(m.Book, rootsOf(old), in.Member.ID, in.At); err != nil {
		return err
	}
	return t.act(got)
}

func rootsOf(es []ferment.Entry) []int64 {
	var out []int64
	for _, e := range es {
		out = append(out, e.Root)
	}
	return out
}

func (t *turn) voidAll(old []ferment.Entry) error {
	if len(old) == 0 {
		return nil
	}
	if err := t.tx.VoidRoots(t.bk.id, rootsOf(old), t.in.Member.ID, t.in.At); err != nil {
		return err
	}
	return t.reply(reply{Lines: say.TakenBack(t.bk.style, t.nameOf(old[0].Batch), old)})
}

// editedTo matches the new entries with the old by quantity and supersedes.
func (t *turn) editedTo(in parse.Intent, old []ferment.Entry) error {
	var es []ferment.Entry
	var err error
	if in.Kind == parse.NewBatch && len(old) > 0 {
		for i := range in.Entries {
			in.Entries[i].BatchN = old[0].Batch
		}
	}
	used := map[int64]bool{}
	rows, err := t.rows(in.Entries, in.Event)
	if err != nil {
		return err
	}
	for i, e := range rows {
		e.Ordinal = 1000*int(t.in.Now.Unix()%1000000) + i
		for _, o := range old {
			if !used[o.Root] && (o.Quantity == e.Quantity || ferment.IsGravity(o.Quantity) && ferment.IsGravity(e.Quantity)) && o.Material == e.Material {
				used[o.Root] = true
				e.Root, e.Ordinal = o.Root, o.Ordinal
				if e.Quantity == ferment.QNewBatch {
					e.Batch = o.Batch
				}
				break
			}
		}
		es = append(es, e)
	}
	var gone []int64
	for _, o := range old {
		if !used[o.Root] {
			gone = append(gone, o.Root)
		}
	}
	if err := t.tx.VoidRoots(t.bk.id, gone, t.in.Member.ID, t.in.At); err != nil {
		return err
	}
	if es, err = t.tx.AddEntries(t.bk.id, es); err != nil {
		return err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.Now, 0); err != nil {
		return err
	}
	return t.receipt(in, es, nil)
}
