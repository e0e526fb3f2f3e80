package bot

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// MaxFile is the largest file, in bytes, that is taken in a chat: it waits in the
// book for the answer. A larger one is taken in at the shell.
const MaxFile = 4 << 20

// Attached is a file that a member sent.
type Attached struct {
	Name  string
	Bytes []byte // nil: it could not be had
	Size  int64  // as the platform says; Bytes are not fetched above MaxFile
}

// file looks at a file of the keeper's and asks once before anything is put in.
func (b *Bot) file(ctx context.Context, tx *store.Tx, in Incoming) error {
	if in.Chat.Group() || in.File == nil {
		return nil // no talk of the book's: leave no trace
	}
	msg, dup, err := tx.AddMessage(store.Message{Book: in.Chat.Book, Chat: in.Chat.ID, Member: in.Member.ID, OriginChat: in.OriginChat,
		PlatformMessage: in.MessageID, At: in.At, Kind: "file"})
	if err != nil || dup {
		return err
	}
	bk, err := b.load(tx, in.Chat.Book, in.At, 0)
	if err != nil {
		return err
	}
	t := &turn{b: b, ctx: ctx, tx: tx, in: in, bk: bk, msg: msg}
	refuse := func(lines ...string) error {
		if err := tx.DropMessage(msg.ID); err != nil {
			return err
		}
		return t.reply(reply{Lines: lines, Whole: true})
	}
	switch {
	case keeperInPrivate(in) != "":
		return refuse(keeperInPrivate(in))
	case in.File.Size > MaxFile || len(in.File.Bytes) > MaxFile:
		return refuse(say.FileTooLarge()...)
	case in.File.Bytes == nil:
		return refuse(say.FileLost()...)
	}
	taken, err := ReadImport(in.File.Name, in.File.Bytes)
	if err != nil {
		return refuse(say.FileStrange(err.Error())...)
	}
	if taken.doc != nil && t.anything() {
		return refuse(say.BookNotEmpty()...)
	}
	packed, err := pack(in.File.Bytes)
	if err != nil {
		return err
	}
	return t.reply(reply{Lines: append(taken.Preview(), "Put it in?"), Whole: true, Buttons: []choice{
		{say.PutIn, action{Do: doTake, Message: msg.ID, Text: in.File.Name, Packed: packed}}, {say.Drop, action{Do: doDrop, Message: msg.ID}}}})
}

// anything reports a batch with live entries.
func (t *turn) anything() bool {
	return len(t.bk.batches)+len(t.bk.deleted) > 0
}

// take puts a file in that was looked at before.
func (t *turn) take(a action) error {
	if no := keeperInPrivate(t.in); no != "" {
		return t.reply(reply{Lines: []string{no}})
	}
	raw, err := unpack(a.Packed)
	if err != nil {
		return err
	}
	return t.asMessage(a.Message, func() error {
		taken, err := ReadImport(a.Text, raw)
		if err != nil {
			return err
		}
		k := &taking{tx: t.tx, msg: t.msg}
		if done, err := k.done(); done || err != nil {
			return errors.Join(err, t.reply(reply{Lines: say.AlreadyThere()}))
		}
		t.msg.At = t.in.At // it is put in now, and undone from now on
		n, err := t.b.takeIn(t.tx, taken, t.msg, t.in.Member)
		if errors.Is(err, ErrNotEmpty) {
			return t.reply(reply{Lines: say.BookNotEmpty()})
		}
		if err != nil {
			return err
		}
		if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
			return err
		}
		part, err := t.tx.MessageByKey(originOf(t.msg), 1)
		if err != nil {
			return err
		}
		r := reply{Lines: []string{say.FileTaken(n)}, Buttons: []choice{{say.Undo, action{Do: doUndo, Message: part.ID}}}}
		if k := len(t.bk.batches); taken.doc == nil && k > 0 {
			s := t.bk.batches[k-1]
			r.Lines, r.Batch = append(r.Lines, t.bk.style.List([]*ferment.State{s})...), s.N
		}
		return t.reply(r)
	})
}

// imported is the first entry of a file that the sender put in last; nil where it was
// something else. Whoever put a file in may take it back, whoever typed it, and when.
func (t *turn) imported(since time.Time, silent bool) *parse.Last {
	m, err := t.newestOwn(since, silent)
	if err != nil || m.Kind != importKind {
		return nil
	}
	es, err := t.tx.EntriesOfMessage(t.bk.id, m.ID)
	if err != nil || len(es) == 0 {
		return nil
	}
	l := t.lastOf(es[0])
	l.By, l.Typed = t.in.Member.Name, m.At.In(t.bk.zone)
	return &l
}

// newestOwn is the sender's newest message with live entries since a time. Where the
// book was silent since then, only a file can have come, and it came last.
func (t *turn) newestOwn(since time.Time, silent bool) (store.Message, error) {
	if !silent {
		return t.tx.NewestOf(t.bk.id, t.in.Member.ID, since)
	}
	last := int64(0)
	for _, es := range t.bk.entries {
		for i := range es {
			last = max(last, es[i].Message)
		}
	}
	m, err := t.tx.Message(t.bk.id, last)
	if err == nil && (m.Member != t.in.Member.ID || m.At.Before(since)) {
		err = store.ErrNotFound
	}
	return m, err
}

// takeImportBack takes all that one import put in back, except what was repaired
// since.
func (t *turn) takeImportBack(m store.Message, out int64) error {
	es, err := t.tx.EntriesOfOrigin(t.bk.id, m.OriginChat)
	if err != nil {
		return err
	}
	if len(es) == 0 {
		return t.reply(reply{Lines: say.AlreadyBack()})
	}
	roots := rootsOf(es)
	if err := t.tx.VoidRoots(t.bk.id, roots, t.in.Member.ID, t.in.At); err != nil {
		return err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	t.edits = out
	return t.reply(reply{Lines: say.FileBack(len(es)), Whole: true,
		Buttons: []choice{{say.PutBack, action{Do: doRedo, Message: m.ID, Roots: roots}}}})
}

// pack makes a file small enough to wait with the question about it.
func pack(raw []byte) ([]byte, error) {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err := w.Write(raw)
	err = errors.Join(err, w.Close()) // what is left is written now
	return out.Bytes(), err
}

func unpack(packed []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("a file that waited: %w", err)
	}
	return io.ReadAll(io.LimitReader(r, MaxFile))
}
