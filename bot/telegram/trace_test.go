package telegram

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// onDisk lists the files beside the database that hold any of these.
func (r *rig) onDisk(what ...[]byte) (out []string) {
	r.t.Helper()
	files, err := filepath.Glob(r.path + "*")
	if err != nil || len(files) == 0 {
		r.t.Fatalf("no files: %v", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			r.t.Fatal(err)
		}
		for _, w := range what {
			if bytes.Contains(data, w) {
				out = append(out, fmt.Sprintf("%s: %q", filepath.Base(f), w))
			}
		}
	}
	return out
}

// tidied waits until the disk was tidied after all that was said so far: of two
// updates that are for nobody, the second is tidied after the first was handled.
func (r *rig) tidied() {
	r.t.Helper()
	r.s.WaitIdle(r.t)
	for range 2 {
		n := strings.Count(r.logged(), "tidied the disk")
		r.s.RawAny("a_kind_for_nobody", `{}`)
		r.s.Wait(r.t, "tidying", func() bool { return strings.Count(r.logged(), "tidied the disk") > n })
	}
}

// marks are the forms in which an id can stand in the file: as text within a key,
// and as an integer of six bytes (the record format of SQLite, serial type 5).
func marks(id int64) [][]byte {
	be := binary.BigEndian.AppendUint64(nil, uint64(id))
	return [][]byte{fmt.Append(nil, id), be[2:]}
}

// TestStrangersLeaveNoTrace has people who are in no book do all that they can, and
// looks for them in the database and its log while the bot still runs.
func TestStrangersLeaveNoTrace(t *testing.T) {
	const chatter = "Zwetschgenkuchen"
	r := newRig(t, loopback.Options{CanRead: true})
	r.cfg.Quiet = time.Millisecond
	r.start()
	nora, mal, vera := r.host("nora"), r.s.Person("mal"), r.s.Person("vera")
	g := r.s.Group("Elsewhere", mal, vera)
	mal.Start("wrong" + chatter + "code")
	mal.Say(mal.Private(), "sg 1.048 "+chatter)
	mal.Say(mal.Private(), "", loopback.Said{Extra: map[string]any{"sticker": map[string]any{"emoji": chatter}}})
	mal.PressData(mal.Private(), 1, chatter)
	id := mal.Say(mal.Private(), "a "+chatter)
	mal.Edit(mal.Private(), id, "two "+chatter)
	mal.AddBot(g)
	vera.Say(g, "who is "+chatter)
	vera.Say(g, "/admit "+chatter)
	vera.Say(g, "/roll@another_bot "+chatter)
	vera.Leave(g)
	mal.RemoveBot(g)
	mal.Block()
	r.tidied()
	nora.Say(nora.Private(), "pitched")
	nora.Private().WaitBot(t, 2)
	r.tidied()
	look := slices.Concat([][]byte{[]byte(chatter)}, marks(mal.ID), marks(vera.ID), marks(g.ID))
	if got := r.onDisk(look...); len(got) > 0 {
		t.Errorf("strangers left traces: %v", got)
	}
	if got := r.onDisk(slices.Concat(marks(nora.ID), [][]byte{[]byte("pitched")})...); len(got) < 3 {
		t.Fatalf("the test looks in the wrong place: of the household it finds only %v", got)
	}
	if got := r.notes(1); !slices.Equal(got, []string{"pitched"}) {
		t.Errorf("the book holds %v", got)
	}
}

// TestIgnoredTalkIsEmptied has members talk of other things: the key stays for 48 h,
// the words go at once.
func TestIgnoredTalkIsEmptied(t *testing.T) {
	r := newRig(t, loopback.Options{CanRead: true})
	r.cfg.Quiet = time.Millisecond
	r.talk.silent = "Kaffeeklatsch"
	r.start()
	nora := r.host("nora")
	for i := range 50 {
		nora.Say(nora.Private(), strings.Repeat("x", i*i)+" Kaffeeklatsch")
	}
	r.tidied()
	if got := r.onDisk([]byte("Kaffeeklatsch")); len(got) > 0 {
		t.Errorf("still there: %v", got)
	}
	if got := r.onDisk(fmt.Appendf(nil, ":%d:", nora.ID)); len(got) == 0 {
		t.Error("the keys are gone: what comes again would be read again")
	}
}

// TestParkedStrangerIsForgotten has a stranger's message fail for ever.
func TestParkedStrangerIsForgotten(t *testing.T) {
	r := newRig(t, loopback.Options{})
	r.cfg.Quiet = time.Millisecond
	r.access.Cry = func(text string, _ bool) (string, bool) {
		if strings.HasPrefix(text, "stumble") {
			panic("stumbled")
		}
		return "", false
	}
	r.start()
	mal := r.s.Person("mal")
	mal.Say(mal.Private(), "stumble Zwetschgenkuchen")
	r.s.Wait(t, "three tries", func() bool { return strings.Count(r.logged(), "stumble") >= 3 })
	r.tidied()
	if got := r.onDisk(append(marks(mal.ID), []byte("Zwetschgenkuchen"))...); len(got) > 0 {
		t.Errorf("a stranger is kept: %v", got)
	}
}

// TestForgettingLeavesTheDisk is the keeper's way out: asked twice, then a third
// press for the backups.
func TestForgettingLeavesTheDisk(t *testing.T) {
	const word = "Zwetschgenwein"
	r, nora, g := newHouse(t, loopback.Options{CanRead: true})
	r.stop()
	r.cfg.Quiet = time.Millisecond
	r.start()
	c := nora.Private()
	next(t, nora, c, "new "+word+" 23 l")
	next(t, nora, c, "1.090 20c", loopback.Said{Photo: wall(t)})
	next(t, nora, c, "note: "+word+" smells of pears")
	dir := filepath.Join(filepath.Dir(r.path), "backups")
	if _, err := r.db.BackupNightly(t.Context(), dir, r.clock.now()); err != nil {
		t.Fatal(err)
	}
	if m := next(t, nora, g, "@"+loopback.BotName+" forget everything"); strings.Contains(m.Text, "Forget the whole") {
		t.Errorf("in the group: %q", m.Text)
	}
	m := next(t, nora, c, "forget everything")
	for _, step := range []struct{ label, says string }{
		{"Forget it", "Sure? 1 batch will be gone"},
		{"Yes, forget all", "Forgotten: the book is empty.\n1 nightly backup still holds it"},
		{"Forget there too", "Forgotten in 1 backup too.\nCopies made by hand may still hold it"},
	} {
		n := len(c.FromBot())
		if nora.Press(c, m.ID, step.label) == "" {
			t.Fatalf("no button %q under %q", step.label, m.Text)
		}
		if m = c.WaitBot(t, n+1)[n]; m.Text != step.says {
			t.Fatalf("%s: %q, want %q", step.label, m.Text, step.says)
		}
	}
	r.tidied()
	if got := r.onDisk([]byte(word), []byte("pears")); len(got) > 0 {
		t.Errorf("still there: %v", got)
	}
	copies, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(copies) == 0 {
		t.Fatalf("no backups: %v", err)
	}
	for _, path := range copies {
		if data, err := os.ReadFile(path); err != nil || bytes.Contains(data, []byte(word)) {
			t.Errorf("%s still holds it (%v)", filepath.Base(path), err)
		}
	}
	if m := next(t, nora, c, "new sloe 5 l"); !strings.HasPrefix(m.Text, "sloe: begun, 5 L\nno 1") {
		t.Errorf("begun anew: %q", m.Text)
	}
}

// TestRowThatEndsTheProgram is one at which run after run has died: it is set aside,
// said so, and what is behind it goes on.
func TestRowThatEndsTheProgram(t *testing.T) {
	r := newRig(t, loopback.Options{}).start()
	nora := r.host("nora")
	r.halt()
	r.open()
	raw := fmt.Appendf(nil, `{"update_id":9,"message":{"message_id":77,"date":1789237800,"chat":{"id":%d,"type":"private"},"from":{"id":%d,"first_name":"nora"},"text":"poison"}}`, nora.ID, nora.ID)
	if err := r.db.Update(t.Context(), func(tx *store.Tx) error {
		row, _ := (&tg{}).inRow(raw, r.clock.now())
		if err := tx.PutInbox([]store.InRow{row}, tx.Offset()); err != nil {
			return err
		}
		rows, err := tx.NextInbox(1)
		for range maxCrashes {
			if err == nil {
				err = tx.BumpAttempts([]int64{rows[0].Seq})
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	r.start()
	nora.Say(nora.Private(), "racked")
	if got := texts(nora.Private().WaitBot(t, 3)); !strings.HasPrefix(got[1], "Not saved") || got[2] != "kept: racked" {
		t.Errorf("answers %q", got)
	}
	if got := r.notes(1); !slices.Equal(got, []string{"racked"}) {
		t.Errorf("the book holds %v", got)
	}
}
