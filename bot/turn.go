package bot

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// undoWindow is how long "undo" and "no, …" reach back without a name.
const undoWindow = 48 * time.Hour

// turn is one incoming thing while it is handled.
type turn struct {
	b       *Bot
	ctx     context.Context
	tx      *store.Tx
	in      Incoming
	bk      *book
	msg     store.Message
	fresh   bool  // the message came just now: nothing was entered of it
	n       int   // replies so far: part of their key
	typed   int64 // the message that answers a question, while the question's own is in hand
	edits   int64 // the answer that is edited in place; 0: a new one
	tapped  bool  // a reminder was answered: a group is shown by whom
	earlier bool  // and a deed logged by it, whose time may be another
}

// text handles a message: it is understood, kept or not, and answered.
func (b *Bot) text(ctx context.Context, tx *store.Tx, in Incoming) error {
	if done, err := b.command(tx, in); done || err != nil {
		return err
	}
	msg, dup, err := tx.AddMessage(store.Message{Book: in.Chat.Book, Chat: in.Chat.ID, Member: in.Member.ID, OriginChat: in.OriginChat,
		PlatformMessage: in.MessageID, Text: in.Text, At: in.At, ReplyTo: in.ReplyTo, Thread: in.Thread})
	if err != nil || dup {
		return err
	}
	bk, err := b.load(tx, in.Chat.Book, in.At, 0)
	if err != nil {
		return err
	}
	t := &turn{b: b, ctx: ctx, tx: tx, in: in, bk: bk, msg: msg, fresh: true}
	if done, err := t.answersOption(); done || err != nil {
		return err
	}
	pc, err := t.context()
	if err != nil {
		return err
	}
	got, err := t.understand(pc)
	if err != nil {
		return err
	}
	if got.Ask == "duplicate" || got.Unasked != "" {
		if got, err = t.expected(pc, got); err != nil {
			return err
		}
	}
	return t.act(got)
}

// context tells the understanding of messages what is known around this one.
func (t *turn) context() (parse.Context, error) {
	in := t.in
	c := parse.Context{Batches: t.bk.known(), Group: in.Chat.Group(), Units: t.bk.house.Units, Gallon: t.bk.house.Gallon,
		Now: in.At.In(t.bk.zone), Sender: in.Member.Name, BotName: t.b.name(), Mention: in.Mention, Forwarded: in.Forwarded}
	if in.ReplyToBot {
		c.ReplyTo = in.ReplyText
	}
	if in.ReplyTo != 0 {
		if out, err := t.tx.OutByPlatform(in.Chat.ID, in.ReplyTo); err == nil {
			c.ReplyN = out.Batch
			c.ReplyTo = out.Text
		} else if m, err := t.tx.MessageByKey(in.OriginChat, in.ReplyTo); err == nil {
			c.ReplyN = t.batchOfMessage(m.ID)
		}
	}
	members, err := t.tx.Members(in.Chat.Book)
	if err != nil {
		return c, err
	}
	for _, m := range members {
		c.Members = append(c.Members, m.Name)
	}
	c.Instruments = ferment.InstrumentNames(t.bk.settled)
	if c.Active, err = t.focus(); err != nil {
		return c, err
	}
	if q, err := t.asked(); err == nil {
		var p parse.Pending
		if json.Unmarshal(q.Payload, &p) == nil {
			c.Pending = &p
		}
	}
	c.LastEntry, c.OwnEntry = t.last()
	return c, nil
}

// last is the newest entry of the book within the window in which it can be
// repaired without a name: the sender's own where it is the newest here. Where it is
// somebody else's, own is the sender's newest, nil for none.
func (t *turn) last() (last, own *parse.Last) {
	since := t.in.At.Add(-undoWindow)
	newest := t.bk.newest(func(e *ferment.Entry) bool { return !e.TypedAt.Before(since) })
	if newest == nil || newest.Author != t.in.Member.ID {
		if l := t.imported(since, newest == nil); l != nil {
			return l, nil
		}
	}
	if newest == nil {
		return nil, nil
	}
	mine := t.bk.newest(func(e *ferment.Entry) bool { return !e.TypedAt.Before(since) && e.Author == t.in.Member.ID })
	if mine != nil && (!t.in.Chat.Group() || mine.Message == newest.Message || t.in.At.Sub(mine.TypedAt) < time.Hour) {
		newest = mine
	}
	if mine != nil && mine.Message != newest.Message {
		own = t.withBeside(mine)
	}
	return t.withBeside(newest), own
}

// withBeside is an entry with the others of its message.
func (t *turn) withBeside(e *ferment.Entry) *parse.Last {
	l := t.lastOf(*e)
	for _, x := range t.bk.together(*e) {
		if x.Root != e.Root {
			l.Beside = append(l.Beside, t.lastOf(x))
		}
	}
	return &l
}

func (t *turn) lastOf(e ferment.Entry) parse.Last {
	l := parse.Last{By: e.AuthorName, Quantity: string(e.Quantity), Unit: e.Unit, Material: e.Material, When: e.At.In(t.bk.zone), Typed: e.TypedAt.In(t.bk.zone)}
	if s := t.bk.batch(e.Batch); s != nil {
		l.Batch = s.Name
	}
	if e.Has {
		v := e.Value
		l.Value = &v
	}
	return l
}

func (t *turn) batchOfMessage(id int64) int {
	es, err := t.tx.EntriesOfMessage(t.bk.id, id)
	if err != nil || len(es) == 0 {
		return 0
	}
	return es[0].Batch
}

// reply writes an answer to the outbox. In a group lines 1, 3 and 5 are said.
func (t *turn) reply(r reply) error {
	if r.Lines == nil && r.Reaction == "" {
		return nil
	}
	lines := r.Lines
	if t.tapped && t.in.Chat.Group() && len(lines) > 0 {
		lines, t.tapped = slices.Clone(lines), false
		i := 0
		for i+1 < len(lines) && strings.HasSuffix(lines[i], ":") { // the names alone: what was done is below
			i++
		}
		lines[i] = say.By(lines[i], t.in.Member.Name)
	}
	if t.in.Chat.Group() && !r.Whole {
		lines = say.ForGroup(lines)
	}
	if !r.Aid {
		lines = say.Narrow(lines, t.bk.titles)
	}
	out := store.Out{Book: t.bk.id, Chat: t.in.Chat.ID, Kind: "reply", Source: t.source(), Text: say.Text(lines), Plain: r.Plain,
		Batch: r.Batch, Message: t.msg.ID, ReplyTo: t.msg.PlatformMessage, Thread: t.in.Thread, Created: t.in.Now, Reaction: r.Reaction, Render: r.Render}
	if r.Reaction != "" {
		out.Kind = "reaction"
	}
	if r.Render != "" {
		out.Kind = r.Kind
	}
	if t.edits != 0 && out.Kind == "reply" {
		out.Kind, out.Edits = "edit", t.edits
	}
	for _, b := range r.Buttons {
		raw, err := json.Marshal(b.do)
		if err != nil {
			return err
		}
		out.Buttons = append(out.Buttons, store.Button{Label: b.label, Action: raw, Expires: t.in.Now.Add(buttonLives)})
	}
	if _, _, err := t.tx.Enqueue(out); err != nil {
		return fmt.Errorf("enqueue: %w", err)
	}
	return t.setFocus(r.Batch)
}

func (t *turn) source() string {
	t.n++
	switch t.in.Kind {
	case Pressed:
		return fmt.Sprintf("p%s/%d", t.in.Callback, t.n)
	case Edited:
		return fmt.Sprintf("e%d@%d/%d", t.msg.ID, t.in.At.Unix(), t.n)
	}
	if t.typed != 0 {
		return fmt.Sprintf("m%d/%d", t.typed, t.n) // the question has had its reply
	}
	return fmt.Sprintf("m%d/%d", t.msg.ID, t.n)
}

// buttonLives is how long a button of an answer can be pressed.
const buttonLives = 30 * 24 * time.Hour

// reply is an answer before it is written to the outbox.
type reply struct {
	Lines    []string
	Buttons  []choice
	Batch    int
	Plain    bool // a receipt that need not come twice
	Whole    bool // all lines in a group too
	Aid      bool // first aid: a text that goes as it stands
	Reaction string
	Render   string // what to draw or write
	Kind     string // of a Render: photo or document
}

// choice is a button and what pressing it does.
type choice struct {
	label string
	do    action
}

// action is what a button does. Every action sets a state, so that a second press
// changes nothing.
type action struct {
	Do      string         `json:"do"`
	Message int64          `json:"msg,omitempty"`
	Batch   int            `json:"batch,omitempty"`
	Entries []parse.Entry  `json:"entries,omitempty"`
	Action  string         `json:"action,omitempty"` // of a repair
	Roots   []int64        `json:"roots,omitempty"`
	Value   float64        `json:"value,omitempty"`
	Key     string         `json:"key,omitempty"`
	Text    string         `json:"text,omitempty"`
	Word    *ferment.Entry `json:"word,omitempty"`   // on an instrument
	Packed  []byte         `json:"packed,omitempty"` // a file that waits for its answer
}

// What buttons do.
const (
	doStore    = "store"  // keep entries as of a message
	doRepair   = "repair" // change the last entry
	doUndo     = "undo"   // take back what a message put in the book
	doRedo     = "redo"   // bring it back
	doTemp     = "temp"   // the temperature of a gravity
	doDrop     = "drop"   // forget the question
	doType     = "type"   // ask to type a reading
	doMore     = "more"
	doSet      = "set" // a yes/no setting of a batch
	doDeed     = "deed"
	doAdd      = "add"      // log what the bench told, once
	doRemind   = "remind"   // whether a plan is to be reminded of
	doSnooze   = "snooze"   // puts reminders off
	doEarlier  = "earlier"  // how to say when a deed was done
	doMute     = "mute"     // switches a reminder off
	doSaid     = "said"     // answers a reminder
	doSaidAll  = "said all" // answers reminders that went as one message
	doForget   = "forget"
	doMerge    = "merge"     // put wines together as a text says
	doSerial   = "serial"    // keep the code of a photo as a batch's serial
	doPitched  = "pitched"   // the yeast went in when it was assumed to
	doTakeOut  = "take out"  // take back some entries, one of several that fitted
	doCounted  = "counted"   // all bottles are counted
	doInTheirs = "in theirs" // bottles counted twice
	doForAll   = "for all"   // a word on an instrument for what was read before it too
	doTake     = "take"      // put a file in
	doExport   = "export"    // the book as files
)
