package bot

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// act does what a message was understood to mean.
func (t *turn) act(in parse.Intent) error {
	switch in.Kind {
	case parse.Readings, parse.Event, parse.NewBatch:
		if m := t.pendingMessage(); m != 0 {
			if err := t.tx.CloseQuestion(t.bk.id, m); err != nil {
				return err
			}
		}
		if v, unit, ok := t.onlyScale(in); ok {
			if err := t.tx.DropMessage(t.msg.ID); err != nil {
				return err
			}
			return t.convert(v, unit)
		}
		if in.Event == ferment.DeedCheck && len(in.Entries) == 1 {
			e := t.row(in.Entries[0])
			in.Args = map[string]any{"instrument": e.Instrument, "all": e.Type == ferment.SetAllReadings}
			return t.instrumentWord(in, e)
		}
		if in.Event == ferment.DeedBlended {
			if done, err := t.poured(t.in.Text, in); done || err != nil {
				return err
			}
		}
		return t.keep(in)
	case parse.Correction:
		return t.repair(in)
	case parse.Question:
		return t.question(in)
	case parse.Ask:
		return t.ask(in)
	case parse.Reject:
		if err := t.tx.DropMessage(t.msg.ID); err != nil {
			return err
		}
		return t.reply(reply{Lines: t.bk.style.Rejected(in.Reason, in.Why, t.in.Text)})
	}
	return t.ignored(in)
}

// ignored keeps nothing of talk that is not the book's; in private one line helps.
func (t *turn) ignored(parse.Intent) error {
	if err := t.tx.DropMessage(t.msg.ID); err != nil {
		return err
	}
	if t.in.Chat.Group() || t.edits != 0 {
		return nil
	}
	t.msg = store.Message{PlatformMessage: t.msg.PlatformMessage, ID: t.msg.ID}
	if done, err := t.typedAnswer(); done || err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.Help(t.stageInFocus())})
}

func (t *turn) stageInFocus() ferment.Stage {
	n, err := t.focus()
	if err != nil {
		return ""
	}
	if s := t.bk.batch(n); s != nil {
		return s.Stage
	}
	if len(t.bk.batches) == 0 {
		return ""
	}
	return t.bk.batches[len(t.bk.batches)-1].Stage
}

// keep stores what a message said and answers with what it means.
func (t *turn) keep(in parse.Intent) error {
	before := t.bk
	es, err := t.store(in.Entries, in.Event)
	if err != nil {
		return err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	if err := t.grant(in.Wishes, es); err != nil {
		return err
	}
	if done, err := t.offerPlan(in, es); done || err != nil {
		return err
	}
	if err := t.receipt(in, es, before); err != nil {
		return err
	}
	if in.Topic != "" {
		return t.question(parse.Intent{Kind: parse.Question, Topic: in.Topic, Args: in.Args, Batch: in.Batch})
	}
	return nil
}

// store writes parsed entries as rows of the book under this turn's message.
func (t *turn) store(ps []parse.Entry, deed string) ([]ferment.Entry, error) {
	es, err := t.rows(ps, deed)
	if err != nil {
		return nil, err
	}
	base := 0
	if !t.fresh {
		have, err := t.tx.EntriesOfMessage(t.bk.id, t.msg.ID)
		if err != nil {
			return nil, err
		}
		for _, h := range have {
			base = max(base, h.Ordinal+1)
		}
	}
	t.fresh = false
	for i := range es {
		es[i].Ordinal = base + i
	}
	es, err = t.tx.AddEntries(t.bk.id, es)
	if err != nil {
		return nil, fmt.Errorf("keep: %w", err)
	}
	return es, t.joinTemperature(es)
}

// rows turns parsed entries into rows, giving new batches their numbers.
func (t *turn) rows(ps []parse.Entry, deed string) ([]ferment.Entry, error) {
	numbers := map[string]int{}
	var out []ferment.Entry
	for _, p := range ps {
		if p.Quantity == string(ferment.QNewBatch) && p.BatchN == 0 {
			n, err := t.tx.NewBatch(t.bk.id, t.in.Now)
			if err != nil {
				return nil, err
			}
			numbers[strings.ToLower(p.Batch)] = n
		}
	}
	for _, p := range ps {
		e := t.row(p)
		if n, ok := numbers[strings.ToLower(p.Batch)]; ok && p.BatchN == 0 && p.Batch != "" {
			e.Batch = n
		}
		if e.Batch == 0 && p.Batch != "" {
			if s := t.byName(p.Batch); s != nil {
				e.Batch = s.N
			}
		}
		if e.Quantity == ferment.QNewBatch {
			e.Text = p.Batch
		}
		if e.Deed == "" && p.Quantity != string(ferment.QNote) {
			e.Deed = deed
		}
		out = append(out, e)
	}
	nameFinings(out, t.msg.Text)
	nameReceivers(out, t.msg.Text)
	return t.fromOthers(out), nil
}

func (t *turn) byName(name string) *ferment.State {
	for _, s := range t.bk.batches {
		if strings.EqualFold(s.Name, name) {
			return s
		}
	}
	return nil
}

func (t *turn) row(p parse.Entry) ferment.Entry {
	e := ferment.Entry{Message: t.msg.ID, Batch: p.BatchN, Quantity: ferment.Quantity(p.Quantity), Unit: p.Unit, Typed: p.Typed, Deed: p.Deed,
		Material: p.Material, Basis: p.Basis, By: p.By, Text: p.Text, Instrument: p.Instrument, Type: p.Type, Approx: p.Approx,
		At: t.msg.At, Author: t.in.Member.ID, AuthorName: t.in.Member.Name, TypedAt: t.msg.At}
	if p.Value != nil {
		e.Value, e.Has = *p.Value, true
	}
	if e.Deed == "emptied" { // as it is heard
		e.Deed = ferment.DeedEmpty
	}
	if !p.When.Now() {
		e.At = p.When.At
	}
	if p.When.Day {
		y, m, d := p.When.At.Date()
		e.At, e.DayOnly = dateNoon(y, m, d, t.bk.zone), true
	}
	return e
}

// joinTemperature lets a lone temperature complete one's own newest gravity of the
// last ten minutes.
func (t *turn) joinTemperature(es []ferment.Entry) error {
	if len(es) != 1 || es[0].Quantity != ferment.QTemp || es[0].Type != "" || es[0].Deed != "" {
		return nil
	}
	m, err := t.tx.NewestOf(t.bk.id, t.in.Member.ID, t.in.At.Add(-joinWithin))
	if err != nil || m.ID == t.msg.ID {
		ms, err2 := t.previousOwn()
		if err2 != nil || ms == 0 {
			return err2
		}
		m.ID = ms
	}
	old, err := t.tx.EntriesOfMessage(t.bk.id, m.ID)
	if err != nil {
		return err
	}
	gravity, temp := ferment.Entry{}, false
	for _, e := range old {
		if ferment.IsGravity(e.Quantity) && e.Batch == es[0].Batch {
			gravity = e
		}
		temp = temp || e.Quantity == ferment.QTemp
	}
	if gravity.Root == 0 || temp {
		return nil
	}
	e := es[0]
	e.Of, e.At, e.DayOnly = gravity.Root, gravity.At, gravity.DayOnly
	_, err = t.tx.AddEntries(t.bk.id, []ferment.Entry{e})
	return err
}

// previousOwn is the newest message of the sender before this one, within the time
// in which a temperature joins a gravity; 0 where there is none.
func (t *turn) previousOwn() (int64, error) {
	for _, s := range t.bk.batches {
		if s.Last == nil {
			continue
		}
		e := s.Last.Entry
		if e.Author == t.in.Member.ID && t.in.At.Sub(e.TypedAt) <= joinWithin && e.Message != t.msg.ID {
			return e.Message, nil
		}
	}
	return 0, nil
}

// ask puts a question to the sender and remembers what its answer completes.
func (t *turn) ask(in parse.Intent) error {
	if in.Ask == "duplicate" && len(in.Options) == 0 {
		in.Options = []parse.Option{{Label: "Second time", Entries: in.Held}}
	}
	if len(in.Entries) > 0 {
		if _, err := t.store(in.Entries, in.Event); err != nil {
			return err
		}
	}
	if in.Ask == "which_batch" && len(t.bk.open()) == 0 { // nothing to choose from: one must be begun first
		return t.reply(reply{Lines: t.bk.style.NothingBegun(), Whole: true})
	}
	if in.Ask == "which_batch" && len(in.Options) == 0 {
		in.Options = t.everyBatch(in.Held)
	}
	if in.Ask == "which_batch" {
		in.Held = nil // without a batch there is nothing to keep it under
	}
	held := in.Held
	if in.Ask == "amount" {
		held = in.Entries // in the book already: the answer completes it
	}
	raw, err := json.Marshal(parse.Pending{Ask: in.Ask, Action: in.Action, Held: held, Options: in.Options, Batch: in.Batch})
	if err != nil {
		return err
	}
	if _, err := t.tx.PutQuestion(store.Question{Book: t.bk.id, Chat: t.in.Chat.ID, Member: t.in.Member.ID, Message: t.msg.ID, Kind: in.Ask, Payload: raw, Asked: t.in.At}); err != nil {
		return err
	}
	r := reply{Lines: say.Asked(t.bk.style, in.Ask, in.Args, t.subject(in), t.in.Text, in.Why), Batch: in.Batch, Whole: true}
	for _, o := range in.Options {
		do := action{Do: doStore, Message: t.msg.ID, Entries: o.Entries, Key: in.Event}
		if o.Replace {
			do.Do, do.Action, do.Text = doRepair, in.Action, o.Whose
		}
		r.Buttons = append(r.Buttons, choice{o.Label, do})
	}
	// Whatever is held back can be kept as typed by the same word, whatever else is offered.
	if len(in.Held) > 0 {
		r.Buttons = append(r.Buttons, choice{say.Keep, action{Do: doStore, Message: t.msg.ID, Entries: in.Held, Key: in.Event}})
	}
	if len(r.Buttons) > 0 && in.Ask != "duplicate" { // there "same one" leaves it out
		r.Buttons = append(r.Buttons, choice{say.Drop, action{Do: doDrop, Message: t.msg.ID}})
	}
	if err := t.reply(r); err != nil || in.Ask != "amount" || in.Topic == "" {
		return err
	}
	return t.question(parse.Intent{Kind: parse.Question, Topic: in.Topic, Args: in.Args, Batch: in.Batch}) // it is in the book: what was asked can be answered
}

func (t *turn) subject(in parse.Intent) *ferment.State {
	if s := t.bk.batch(in.Batch); s != nil {
		return s
	}
	for _, e := range in.Held {
		if s := t.bk.batch(e.BatchN); s != nil {
			return s
		}
	}
	return nil
}

func (t *turn) pendingMessage() int64 {
	q, err := t.asked()
	if err != nil {
		return 0
	}
	return q.Message
}

// answersOption lets a typed label press the button of the open question.
func (t *turn) answersOption() (bool, error) {
	q, err := t.asked()
	if errors.Is(err, store.ErrNotFound) {
		return t.refuses()
	}
	if err != nil {
		return false, err
	}
	var p parse.Pending
	if err := json.Unmarshal(q.Payload, &p); err != nil {
		return false, nil
	}
	do := action{Do: doStore, Message: q.Message, Entries: p.Held}
	switch {
	case pressesLabel(t.in.Text, say.Keep) && len(p.Held) > 0 && p.Ask != "amount":
	case pressesLabel(t.in.Text, say.Drop) || len(p.Options) > 0 && parse.Declines(t.in.Text):
		do = action{Do: doDrop, Message: q.Message}
	default:
		o, ok := parse.Choose(t.in.Text, p)
		if !ok {
			return false, nil
		}
		do.Entries = o.Entries
		if len(o.Entries) == 0 && !o.Replace { // "same one"
			do.Do = doDrop
		}
		if o.Replace {
			do.Do, do.Action, do.Text = doRepair, p.Action, o.Whose
		}
	}
	if err := t.tx.DropMessage(t.msg.ID); err != nil {
		return false, err
	}
	t.typed = t.msg.ID
	return true, t.do(do, 0)
}

// pressesLabel reports a text that is a button's label.
func pressesLabel(text, label string) bool {
	return strings.EqualFold(strings.Trim(text, " .!\n"), label)
}

// othersMayAnswer is how long after a question another member of the group may answer
// it without replying to it (common practice, no source).
const othersMayAnswer = 10 * time.Minute

// asked is the question that this message may answer: the sender's own; in a group also
// another member's, where the message replies to it, or where it says nothing but what
// one of its buttons does.
func (t *turn) asked() (store.Question, error) {
	within := func(q store.Question, err error, window time.Duration) bool {
		return err == nil && t.in.At.Sub(q.Asked) < window
	}
	if t.in.Chat.Group() && t.in.ReplyTo != 0 {
		if out, err := t.tx.OutByPlatform(t.in.Chat.ID, t.in.ReplyTo); err == nil {
			if m, err := t.tx.Message(t.bk.id, out.Message); err == nil {
				if q, err := t.tx.OpenQuestion(t.in.Chat.ID, m.Member); within(q, err, undoWindow) && q.Message == out.Message {
					return q, nil
				}
			}
		}
	}
	own, err := t.tx.OpenQuestion(t.in.Chat.ID, t.in.Member.ID)
	if within(own, err, undoWindow) {
		return own, nil
	}
	if err != nil && !errors.Is(err, store.ErrNotFound) || !t.in.Chat.Group() {
		return store.Question{}, cmp.Or(err, store.ErrNotFound)
	}
	members, err := t.tx.Members(t.bk.id)
	if err != nil {
		return store.Question{}, err
	}
	for _, m := range members {
		q, err := t.tx.OpenQuestion(t.in.Chat.ID, m.ID)
		var p parse.Pending
		if m.ID == t.in.Member.ID || !within(q, err, othersMayAnswer) || json.Unmarshal(q.Payload, &p) != nil {
			continue
		}
		if _, ok := parse.Choose(t.in.Text, p); ok || pressesLabel(t.in.Text, say.Keep) || pressesLabel(t.in.Text, say.Drop) {
			return q, nil
		}
	}
	return store.Question{}, store.ErrNotFound
}

// refuses is a typed no to what the newest answer of a private chat asks with buttons
// alone: whether to export the book or to forget it. Nothing has been stored that a no
// could mean instead, and whoever is asked that wants to read that nothing will happen.
func (t *turn) refuses() (bool, error) {
	if t.in.Chat.Group() || !parse.Refuses(t.in.Text) && !pressesLabel(t.in.Text, say.Drop) {
		return false, nil
	}
	outs, err := t.tx.RecentOut(t.in.Chat.ID, 1)
	if err != nil || len(outs) == 0 || t.in.At.Sub(outs[0].Created) > undoWindow {
		return false, err
	}
	for _, b := range outs[0].Buttons {
		var a action
		if json.Unmarshal(b.Action, &a) == nil && a.Do == doDrop && a.Key == "book" {
			if err := t.tx.DropMessage(t.msg.ID); err != nil {
				return false, err
			}
			return true, t.do(a, 0)
		}
	}
	return false, nil
}

// everyBatch offers all that hold wine, where no batch was the likelier.
func (t *turn) everyBatch(held []parse.Entry) []parse.Option {
	var out []parse.Option
	for _, s := range t.bk.open() {
		o := parse.Option{Label: say.Title(s.Name)}
		for _, e := range held {
			e.Batch, e.BatchN = s.Name, s.N
			o.Entries = append(o.Entries, e)
		}
		out = append(out, o)
	}
	return out
}

// onlyScale reports a lone value in another scale that cannot be the working
// batch's gravity: "21 brix" is then a question.
func (t *turn) onlyScale(in parse.Intent) (v float64, unit string, ok bool) {
	if len(in.Entries) != 1 || in.Entries[0].Value == nil || in.Entries[0].Quantity == string(ferment.QSG) {
		return 0, "", false
	}
	e := in.Entries[0]
	s := t.bk.batch(e.BatchN)
	if !ferment.IsGravity(ferment.Quantity(e.Quantity)) || s == nil || s.Last == nil || s.Pitched.IsZero() || !e.When.Now() {
		return 0, "", false
	}
	g, err := ferment.GravityOf(ferment.Quantity(e.Quantity), *e.Value)
	return *e.Value, e.Unit, err == nil && g > s.Last.SG+0.010 && e.Quantity != string(ferment.QOG)
}
