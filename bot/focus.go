package bot

import (
	"slices"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// A household may give each batch a forum topic of its own. Which batch a topic is
// about follows from its title, else from what was first put in the book there. It
// is kept beside what members spoke of last, under the negative of the topic's
// number, which no member has.

// focus is the batch spoken of here: in a topic its own, else the sender's own
// within two days, else the chat's newest.
func (t *turn) focus() (int, error) {
	fs, err := t.tx.Focuses(t.in.Chat.ID)
	if err != nil {
		return 0, err
	}
	if n := t.topic(fs); n != 0 {
		return n, nil
	}
	newest := 0
	for _, f := range fs {
		s := t.bk.batch(f.Batch)
		if s == nil || f.Member < 0 {
			continue
		}
		if f.Member == t.in.Member.ID && t.in.At.Sub(f.At) < undoWindow {
			return f.Batch, nil
		}
		if newest == 0 {
			newest = f.Batch
		}
	}
	return newest, nil
}

// topic is the batch of the topic that this message stands in; 0 for none.
func (t *turn) topic(fs []store.Focus) int {
	if t.in.Thread == 0 {
		return 0
	}
	if s := t.titled(); s != nil {
		return s.N
	}
	for _, f := range fs {
		if f.Member == -t.in.Thread && t.bk.batch(f.Batch) != nil {
			return f.Batch
		}
	}
	return 0
}

// titled is the batch whose name is the topic's title, the newest of several.
func (t *turn) titled() *ferment.State {
	title := strings.TrimSpace(t.in.ThreadTitle)
	for _, s := range slices.Backward(t.bk.batches) {
		if title != "" && strings.EqualFold(s.Name, title) {
			return s
		}
	}
	return nil
}

// setFocus remembers what was spoken of. In a topic only what was put in the book
// counts, and it makes the topic that batch's where it was nobody's; a batch begun
// there takes it over.
func (t *turn) setFocus(n int) error {
	if n == 0 {
		return nil
	}
	if t.in.Thread == 0 {
		return t.tx.SetFocus(t.in.Chat.ID, t.in.Member.ID, n, t.in.At)
	}
	fs, err := t.tx.Focuses(t.in.Chat.ID)
	if err != nil {
		return err
	}
	es := t.bk.entries[n]
	here := func(e ferment.Entry) bool { return t.msg.ID != 0 && e.Message == t.msg.ID }
	if begun := len(es) > 0 && here(es[0]); begun || t.topic(fs) == 0 && slices.ContainsFunc(es, here) {
		return t.takeTopic(n)
	}
	return nil
}

// takeTopic makes the topic that this message stands in a batch's.
func (t *turn) takeTopic(n int) error {
	if t.in.Thread == 0 {
		return nil
	}
	return t.tx.SetFocus(t.in.Chat.ID, -t.in.Thread, n, t.in.At)
}

// TopicOf is the forum topic in a chat that is a batch's, the newest of several; 0
// for none. What nobody asked for is said there.
func TopicOf(tx *store.Tx, chat int64, batch int) (thread int64, err error) {
	fs, err := tx.Focuses(chat)
	if err != nil {
		return 0, err
	}
	for _, f := range fs {
		if f.Member < 0 && f.Batch == batch {
			return -f.Member, nil
		}
	}
	return 0, nil
}

// TopicGone notes that nothing can be sent to a topic any more.
func TopicGone(tx *store.Tx, chat, thread int64, now time.Time) error {
	return tx.SetFocus(chat, -thread, 0, now)
}
