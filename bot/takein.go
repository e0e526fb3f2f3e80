package bot

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// importKind marks messages that an import made: they are taken back together, and
// no reminder is sent to where they came from.
const importKind = "import"

// originOf is where the messages of an import stand: apart from every chat, and
// known by the message that carried the file.
func originOf(msg store.Message) int64 { return -1<<41 - msg.ID }

// takeIn puts a file into the book of a message. Entries that were typed in one
// message stay together in one of their own, since they are understood together.
func (b *Bot) takeIn(tx *store.Tx, t *Taken, msg store.Message, who store.Member) (int, error) {
	in := &taking{b: b, tx: tx, msg: msg, who: who, parts: map[int64]int64{}, roots: map[int64]int64{0: 0}, numbers: map[int]int{0: 0}, people: map[int64]int64{}, names: map[string]int64{}}
	if t.doc != nil {
		return in.document(t.doc)
	}
	return in.table(t)
}

// taking is one import under way, with what became of the file's ids.
type taking struct {
	b       *Bot
	tx      *store.Tx
	msg     store.Message
	who     store.Member
	parts   map[int64]int64 // messages
	roots   map[int64]int64
	numbers map[int]int     // of batches
	people  map[int64]int64 // members
	names   map[string]int64
}

// part is the message here for one of the file.
func (k *taking) part(old int64) (int64, error) {
	if id, ok := k.parts[old]; ok {
		return id, nil
	}
	m, _, err := k.tx.AddMessage(store.Message{Book: k.msg.Book, Chat: k.msg.Chat, Member: k.who.ID, OriginChat: originOf(k.msg),
		PlatformMessage: int64(len(k.parts) + 1), At: k.msg.At, Kind: importKind})
	k.parts[old] = m.ID
	return m.ID, err
}

// done reports an import of the same file of the same message, taken back or not.
func (k *taking) done() (bool, error) {
	_, err := k.tx.MessageByKey(originOf(k.msg), 1)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	return err == nil, err
}

// table begins a batch and puts the readings of a table in.
func (k *taking) table(t *Taken) (int, error) {
	bk, err := k.b.load(k.tx, k.msg.Book, k.msg.At, 0)
	if err != nil {
		return 0, err
	}
	n, err := k.tx.NewBatch(k.msg.Book, k.msg.At)
	if err != nil {
		return 0, err
	}
	part, err := k.part(1)
	if err != nil {
		return 0, err
	}
	name := t.name
	if name == "" {
		name = fmt.Sprintf("table %d", n)
	}
	for _, s := range bk.batches {
		if strings.EqualFold(s.Name, name) {
			name = fmt.Sprintf("%s table %d", t.name, n)
		}
	}
	es := t.entries(ferment.Entry{Message: part, Batch: n, Author: k.who.ID, AuthorName: k.who.Name, TypedAt: k.msg.At}, name, bk.zone)
	_, err = k.tx.AddEntries(k.msg.Book, es)
	return len(es), err
}

// fileRow is an entry of the file with its batch's number there.
type fileRow struct {
	e     ExportedEntry
	batch int
}

// document writes the rows of an export in their order, chains and all.
func (k *taking) document(d *Document) (int, error) {
	bk, err := k.b.load(k.tx, k.msg.Book, k.msg.At, 0)
	if err != nil {
		return 0, err
	}
	if len(bk.batches)+len(bk.deleted) > 0 {
		return 0, ErrNotEmpty
	}
	if err := k.members(d.Members); err != nil {
		return 0, err
	}
	for _, b := range d.Batches {
		if k.numbers[b.N], err = k.tx.NewBatch(k.msg.Book, k.msg.At); err != nil {
			return 0, err
		}
	}
	rows := d.rows()
	for i, r := range rows {
		if err := k.row(r, i); err != nil {
			return 0, fmt.Errorf("entry %d: %w", r.e.ID, err)
		}
	}
	if err := k.reminders(schedule.BookKind, 0, d.Said); err != nil {
		return 0, err
	}
	for _, b := range d.Batches {
		if err := k.reminders(schedule.BatchKind, int64(k.numbers[b.N]), b.Said); err != nil {
			return 0, err
		}
	}
	return len(rows), nil
}

// members finds the people of the file among those of the book.
func (k *taking) members(ms []ExportedMember) error {
	have, err := k.tx.Members(k.msg.Book)
	if err != nil {
		return err
	}
	for _, h := range have {
		k.names[strings.ToLower(h.Name)] = h.ID
	}
	for _, m := range ms {
		if m.Keeper {
			k.people[m.ID] = k.who.ID // who keeps it now
		}
	}
	return nil
}

// author is the person here for one of the file: of the same name, else one who stands
// in the book as having left, so that no entry is anybody else's.
func (k *taking) author(old int64, name string) (int64, error) {
	if id := k.people[old]; id != 0 || old == 0 {
		return id, nil
	}
	id := k.names[strings.ToLower(name)]
	if id == 0 {
		m, err := k.tx.AddMember(store.Member{Book: k.msg.Book, Name: name, Joined: k.msg.At, Left: k.msg.At})
		if err != nil {
			return 0, err
		}
		id = m.ID
		k.names[strings.ToLower(name)] = id
	}
	k.people[old] = id
	return id, nil
}

// row writes one entry of the file, the i-th of all.
func (k *taking) row(r fileRow, i int) error {
	e, err := r.e.entry(k.numbers[r.batch])
	if err != nil {
		return err
	}
	e.Root, e.Of, e.Other = k.roots[r.e.Root], k.roots[r.e.Of], k.numbers[r.e.Other]
	if e.Author, err = k.author(e.Author, e.AuthorName); err != nil {
		return err
	}
	if r.e.Void {
		return k.tx.VoidRoots(k.msg.Book, []int64{e.Root}, e.Author, e.TypedAt)
	}
	if e.Message, err = k.part(r.e.Message); err != nil {
		return err
	}
	if r.e.Message == 0 {
		e.Ordinal = i // of no message: nothing numbered them
	}
	out, err := k.tx.AddEntries(k.msg.Book, []ferment.Entry{e})
	if err != nil {
		return err
	}
	k.roots[r.e.Root] = out[0].Root
	return nil
}

// reminders notes what was said of a subject, so that it is not said again.
func (k *taking) reminders(kind string, n int64, said []ExportedSaid) error {
	for _, s := range said {
		r := store.SaidRow{Book: k.msg.Book, Rule: s.Rule, Kind: kind, N: n, Anchor: s.Anchor, Occurrence: s.Occurrence, Answer: s.Answer, Muted: s.Muted}
		if root, ok := k.roots[s.Anchor]; ok {
			r.Anchor = root
		}
		var errs [4]error
		r.MadeAt, errs[0] = instantOf(s.Made)
		r.Due, errs[1] = instantOf(s.Due)
		r.AnsweredAt, errs[2] = instantOf(s.Answered)
		r.SnoozedTo, errs[3] = instantOf(s.Snoozed)
		if err := errors.Join(errs[:]...); err != nil {
			return fmt.Errorf("reminder %s: %w", s.Rule, err)
		}
		if _, _, err := k.tx.AddSaid(r); err != nil {
			return err
		}
	}
	return nil
}

// instantOf reads an instant of an export; empty is the zero one.
func instantOf(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	return time.Parse(time.RFC3339Nano, text)
}
