package store

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func inRow(n int64) InRow {
	return InRow{UpdateID: n, OriginChat: -1, MessageID: n + 100, Raw: []byte(fmt.Sprintf(`{"n":%d}`, n)), Key: fmt.Sprintf("m-1/%d", n), ReceivedAt: noon}
}

func TestInboxTakesEachOnce(t *testing.T) {
	w := mustWorld(t)
	for _, ids := range [][]int64{{7, 8}, {7, 8, 9}, {1}} { // ids may start anew; keys tell
		w.update(func(tx *Tx) error {
			var rows []InRow
			for _, n := range ids {
				rows = append(rows, inRow(n))
			}
			return tx.PutInbox(rows, ids[len(ids)-1]+1)
		})
	}
	w.view(func(tx *Tx) error {
		got, err := tx.NextInbox(10)
		var want []InRow
		for _, n := range []int64{7, 8, 9, 1} {
			r := inRow(n)
			r.State = "new"
			want = append(want, r)
		}
		for i := range got {
			if i > 0 && got[i].Seq <= got[i-1].Seq {
				t.Error("out of order")
			}
			got[i].Seq = 0
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Error(d)
		}
		if tx.Offset() != 2 {
			t.Errorf("offset %d", tx.Offset())
		}
		if n, _ := tx.PendingInbox(); n != 4 {
			t.Errorf("%d wait", n)
		}
		if few, _ := tx.NextInbox(2); len(few) != 2 {
			t.Errorf("%d of at most 2", len(few))
		}
		return err
	})
}

func TestInboxLives(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		if tx.Offset() != 0 {
			t.Error("an offset before the first poll")
		}
		return tx.PutInbox([]InRow{inRow(1), inRow(2), inRow(3), inRow(4)}, 5)
	})
	w.update(func(tx *Tx) error {
		rows, err := tx.NextInbox(4)
		if err != nil {
			return err
		}
		seq := func(i int) int64 { return rows[i].Seq }
		for _, err := range []error{tx.BumpAttempts([]int64{seq(0), seq(3)}), tx.BumpAttempts([]int64{seq(3)}),
			tx.FinishInbox(false, seq(0)), tx.FinishInbox(true, seq(1)), tx.ParkInbox(seq(2), "panic")} {
			if err != nil {
				return err
			}
		}
		left, err := tx.NextInbox(10)
		if len(left) != 1 || left[0].Attempts != 2 || left[0].UpdateID != 4 {
			t.Errorf("left: %+v", left)
		}
		return err
	})
	raws := func() (out []string) {
		w.view(func(tx *Tx) (err error) {
			out, err = all(tx, scanText, "SELECT state || ' ' || CAST(raw AS TEXT) FROM inbox ORDER BY seq")
			return err
		})
		return out
	}
	if d := cmp.Diff([]string{"done ", `kept {"n":2}`, `parked {"n":3}`, `new {"n":4}`}, raws()); d != "" {
		t.Error(d)
	}
	w.update(func(tx *Tx) error { return tx.PruneInbox(noon) }) // received at noon, not before
	if len(raws()) != 4 {
		t.Error("pruned too early")
	}
	w.update(func(tx *Tx) error { return tx.PruneInbox(noon.Add(time.Millisecond)) })
	if d := cmp.Diff([]string{`kept {"n":2}`, `parked {"n":3}`, `new {"n":4}`}, raws()); d != "" {
		t.Error(d)
	}
}

func TestOutKeepsEveryField(t *testing.T) {
	w := mustWorld(t)
	w.update(func(tx *Tx) error {
		o := Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "m1/1", Kind: "photo", Text: "damson", HTML: true, ReplyTo: 2, Thread: 3, Edits: 4,
			Reaction: "👍", Render: "{}", Plain: true, Batch: 5, Message: 6, Priority: 7, NotBefore: noon.Add(time.Minute), Created: noon}
		id, dup, err := tx.Enqueue(o)
		if err != nil || dup {
			t.Fatal(dup, err)
		}
		o.ID, o.State = id, "due"
		got, err := tx.Out(id)
		if d := cmp.Diff(o, got); d != "" {
			t.Error(d)
		}
		again, dup, err2 := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "m1/1", Kind: "photo", Text: "other", Created: noon, Buttons: []Button{{Label: "x", Expires: noon}}})
		if again != id || !dup {
			t.Errorf("the same key: id %d, dup %v", again, dup)
		}
		if o, err := tx.Out(id); err != nil || len(o.Buttons) != 0 {
			t.Error("a double added buttons")
		}
		other, dup, err3 := tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "m1/1", Kind: "reply", Created: noon})
		if other == id || dup {
			t.Error("another kind is another row")
		}
		for _, e := range []error{err, err2, err3} {
			if e != nil {
				return e
			}
		}
		return nil
	})
}

func TestOutboxLives(t *testing.T) {
	w := mustWorld(t)
	ids := map[string]int64{}
	put := func(tx *Tx, source string, o Out) {
		o.Book, o.Chat, o.Source, o.Created = w.a.ID, w.cellar.ID, source, noon
		if o.Kind == "" {
			o.Kind = "reply"
		}
		id, _, err := tx.Enqueue(o)
		if err != nil {
			t.Fatal(err)
		}
		ids[source] = id
	}
	due := func(tx *Tx, now time.Time) (out []string) {
		rows, err := tx.DueOut(now, 10)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			out = append(out, r.Source)
		}
		return out
	}
	w.update(func(tx *Tx) error {
		put(tx, "answer", Out{Message: 9})
		put(tx, "reminder", Out{Priority: 1})
		put(tx, "ack", Out{Kind: "ack", Priority: -1})
		put(tx, "later", Out{NotBefore: noon.Add(time.Hour)})
		put(tx, "again", Out{Message: 9})
		if d := cmp.Diff([]string{"ack", "answer", "again", "reminder"}, due(tx, noon)); d != "" {
			t.Error(d)
		}
		if err := tx.MarkSending([]int64{ids["answer"], ids["ack"], ids["reminder"], ids["again"]}); err != nil {
			return err
		}
		if sending, err := tx.Sending(); err != nil || len(sending) != 4 || sending[0].Tries != 1 {
			t.Errorf("%d being sent, %v", len(sending), err)
		}
		for _, err := range []error{tx.MarkSent(ids["answer"], 777, noon.Add(time.Second)), tx.MarkRetry(ids["ack"], noon.Add(time.Minute)),
			tx.MarkDead(ids["reminder"], "blocked"), tx.MarkUnknown(ids["again"])} {
			if err != nil {
				return err
			}
		}
		if d := cmp.Diff([]string{"ack", "later"}, due(tx, noon.Add(time.Hour))); d != "" {
			t.Error(d)
		}
		got, err := tx.OutByPlatform(w.cellar.ID, 777)
		if got.Source != "answer" || got.State != "sent" || !got.Sent.Equal(noon.Add(time.Second)) {
			t.Errorf("by platform: %+v", got)
		}
		_, none := tx.OutByPlatform(w.cellar.ID, 0)
		wants(t, "a message without an id", none, ErrNotFound)
		first, err2 := tx.OutOf(9)
		if first.Source != "answer" {
			t.Errorf("the answer that an edit changes: %+v", first)
		}
		_, none = tx.OutOf(0)
		wants(t, "the answer to nothing", none, ErrNotFound)
		dead, err3 := tx.Out(ids["reminder"])
		if dead.State != "dead" || dead.Why != "blocked" {
			t.Errorf("dead: %+v", dead)
		}
		recent, err4 := tx.RecentOut(w.cellar.ID, 2)
		if len(recent) != 2 || recent[0].Source != "again" {
			t.Errorf("recent: %+v", recent)
		}
		for _, e := range []error{err, err2, err3, err4} {
			if e != nil {
				return e
			}
		}
		return nil
	})
}

// TestDueOutRemembered: rows that were just made come as they would be read, those that
// were tried and wait again too.
func TestDueOutRemembered(t *testing.T) {
	w := mustWorld(t)
	enqueue := func(tx *Tx, from, to int) {
		for i := from; i < to; i++ {
			o := Out{Book: w.a.ID, Chat: w.cellar.ID, Source: fmt.Sprint("m", i), Kind: "reply", Text: fmt.Sprint("damson, day ", i), HTML: i%2 == 0, ReplyTo: int64(i),
				Plain: i%3 == 0, Batch: i, Message: int64(i), Priority: i%4 - 1, Tries: 2, PlatformMessage: 9, Why: "another row's", Sent: noon, Created: noon.Add(time.Duration(i) * 1234567), Thread: int64(i % 2)}
			if i%5 != 0 {
				o.Buttons = []Button{{Label: "Undo", Action: []byte(`{"do":"undo"}`), Expires: noon.Add(1234567)}, {Label: "More", Expires: noon}}
			}
			if i%7 == 0 {
				o.Chat = w.private.ID
			}
			if _, dup, err := tx.Enqueue(o); err != nil || dup {
				t.Fatal(dup, err)
			}
		}
	}
	w.update(func(tx *Tx) error { enqueue(tx, 0, 8); return nil })
	now := noon.Add(time.Hour)
	var own, read []Due
	err := w.db.UpdateBehind(ctx, func(tx *Tx) (err error) {
		enqueue(tx, 8, 30)
		if err := tx.MarkSending([]int64{2, 9, 12}); err != nil {
			return err
		}
		for _, id := range []int64{2, 9} {
			if err := tx.MarkRetry(id, noon.Add(time.Minute)); err != nil {
				return err
			}
		}
		if own, err = tx.DueOut(now, 25); err != nil {
			return err
		}
		if again, _, err := tx.Enqueue(Out{Book: w.a.ID, Chat: w.shed.ID, Source: "m3000", Kind: "reply", Created: noon, Priority: 9}); err != nil {
			return err
		} else if o, err := tx.Out(again); err != nil || o.Text != "" || o.Chat != w.shed.ID {
			t.Errorf("%+v, %v", o, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	w.view(func(tx *Tx) (err error) { read, err = tx.DueOut(now, 25); return err })
	if d := cmp.Diff(read, own); d != "" || len(read) != 25 {
		t.Errorf("%d rows (-read +own) %s", len(read), d)
	}
}
