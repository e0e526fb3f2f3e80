package bot

import (
	"errors"
	"strings"
	"testing"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

func TestCodeMakesHost(t *testing.T) {
	for _, text := range []string{testCode, "/start " + testCode, " " + strings.ToUpper(testCode) + " "} {
		w := newWorld(t)
		if h := w.to(nora, 0, text); h.verdict.What != Handled || !strings.HasPrefix(h.said(), "You keep this book now.") {
			t.Errorf("%q: %v %q", text, h.verdict, h.said())
		}
		h := w.to(nora, 0, "sg 1.048")
		w.mustPass(h, 1)
		if !h.member.Host || !h.member.Keeper {
			t.Errorf("%q: %+v", text, h.member)
		}
	}
}

func TestCodeTakesTheTerminalsBook(t *testing.T) {
	w := newWorld(t)
	var me store.Member
	w.update(func(tx *store.Tx) (err error) {
		b, err := tx.CreateBook("", w.now)
		if err != nil {
			return err
		}
		me, err = tx.AddMember(store.Member{Book: b.ID, Name: "me", Keeper: true, Joined: w.now})
		if err == nil {
			_, err = tx.NewBatch(b.ID, w.now)
		}
		return err
	})
	if got := w.to(nora, 0, testCode).said(); !strings.Contains(got, "1 batch is in it already") {
		t.Errorf("said %q", got)
	}
	if h := w.to(nora, 0, "now"); h.member.ID != me.ID || h.chat.Book != 1 {
		t.Errorf("member %d of book %d, want the terminal's %d of 1", h.member.ID, h.chat.Book, me.ID)
	}
}

func TestCodeIsDeadOnceUsed(t *testing.T) {
	w := newWorld(t)
	w.to(nora, 0, testCode)
	w.mustNot(w.to(mal, 0, testCode))
	for _, code := range []string{testCode, ""} {
		if open := w.restart(code, false); open != "" {
			t.Errorf("a claimed book opened the code %q", open)
		}
	}
	if open, err := w.a.OpenCode(t.Context(), w.db, testCode, true); open != "" || !errors.Is(err, ErrCode) {
		t.Errorf("a used code with --new-code: %q, %v", open, err)
	}
	w.mustNot(w.to(mal, 0, testCode))
	if h := w.to(nora, 0, "hello"); h.verdict.What != Pass {
		t.Error("the host is locked out")
	}
}

// TestCodeStaysDeadInABackup carries the mark of a used code into a file from before.
func TestCodeStaysDeadInABackup(t *testing.T) {
	w, before := newWorld(t), newWorld(t)
	w.to(nora, 0, testCode)
	dead := ""
	w.update(func(tx *store.Tx) error { dead = DeadCode(tx); return nil })
	before.update(func(tx *store.Tx) error { return KeepDead(tx, dead) })
	if open, err := before.a.OpenCode(t.Context(), before.db, testCode, false); open != "" || !errors.Is(err, ErrCode) {
		t.Errorf("the used code in an unclaimed backup: %q, %v", open, err)
	}
	if open := before.restart("", false); len(open) != codeLength {
		t.Errorf("nobody can claim it any more: %q", open)
	}
}

func TestNewCodeTellsTheHostOfBefore(t *testing.T) {
	w := newWorld(t)
	w.to(nora, 0, testCode)
	open := w.restart("", true)
	if len(open) != codeLength {
		t.Fatalf("code %q", open)
	}
	h := w.to(tom, 0, open)
	if !strings.Contains(h.said(), "Tom is the host now") {
		t.Errorf("said %q", h.said())
	}
	if h := w.to(nora, 0, "x"); h.member.Host || h.member.Keeper || h.verdict.What != Pass {
		t.Errorf("the host of before is %+v", h.member)
	}
}

func TestMadeCode(t *testing.T) {
	w := newWorld(t)
	a, b := w.restart("", false), w.restart("", false)
	if len(a) != 12 || a == b || strings.Trim(a, "abcdefghijklmnopqrstuvwxyz234567") != "" {
		t.Errorf("codes %q, %q: want 12 base-32 characters, another at each start", a, b)
	}
	if _, err := w.a.OpenCode(t.Context(), w.db, "short", false); !errors.Is(err, ErrCode) {
		t.Errorf("a given code of 5: %v", err)
	}
}

func TestGuessing(t *testing.T) {
	w := newWorld(t)
	for i := range 5 {
		if h := w.to(mal, 0, "/start guessguess"+itoa(int64(i))); h.verdict.Say == "" {
			t.Errorf("guess %d met silence", i+1)
		}
	}
	if h := w.to(mal, 0, "/start guessguess9"); h.verdict.Say != "" || h.verdict.What != Ignore {
		t.Errorf("the sixth wrong guess was answered: %q", h.verdict.Say)
	}
	w.mustNot(w.to(mal, 0, testCode)) // even the right one, now
	w.mustNot(w.to(mal, 0, "hello"))
	w.now = w.now.Add(61 * time.Minute)
	if h := w.to(mal, 0, "/start guessguess1"); h.verdict.Say == "" {
		t.Error("silence after an hour")
	}
}

func TestGuessingByMany(t *testing.T) {
	w := newWorld(t)
	for i := range int64(10) {
		for range 5 {
			w.to(person{1000 + i, "x"}, 0, "/start nonsense-code")
		}
	}
	if h := w.to(person{2000, "y"}, 0, "/start nonsense-code"); h.verdict.Say != "" {
		t.Errorf("the 51st wrong guess of an hour was answered: %q", h.verdict.Say)
	}
	w.mustNot(w.to(nora, 0, testCode))
	w.now = w.now.Add(time.Hour)
	if h := w.to(nora, 0, testCode); h.verdict.What != Handled {
		t.Error("the host can't claim the book after the hour")
	}
}

func TestStrangers(t *testing.T) {
	w := newWorld(t)
	if h := w.to(mal, 0, "/start"); h.verdict.Say != say.Unclaimed() {
		t.Errorf("before the claim: %q", h.verdict.Say)
	}
	w.to(nora, 0, testCode)
	if h := w.to(ines, 0, "hello"); h.verdict.Say != say.Stranger() {
		t.Errorf("first: %q", h.verdict.Say)
	}
	if h := w.to(ines, 0, "hello?"); h.said() != "" {
		t.Errorf("second on the same day: %q", h.said())
	}
	if h := w.to(ines, 0, "gas!"); h.verdict.Say != "call 112" {
		t.Errorf("a cry for help: %q", h.verdict.Say)
	}
	w.now = w.now.Add(25 * time.Hour)
	if h := w.to(ines, 0, "hello"); h.verdict.Say != say.Stranger() {
		t.Errorf("next day: %q", h.verdict.Say)
	}
	w.update(func(tx *store.Tx) error {
		for _, table := range []string{"chats", "members", "outbox"} {
			rows, err := tx.Dump(table, time.UTC)
			if err != nil {
				return err
			}
			for _, row := range rows {
				if strings.Contains(row, "Ines") || strings.Contains(row, "Mal") {
					t.Errorf("a stranger left a trace in %s: %s", table, row)
				}
			}
		}
		return nil
	})
}

func TestInvites(t *testing.T) {
	w := newWorld(t)
	w.to(nora, 0, testCode)
	link := w.link(nora, "invite")
	if len(link) < 22 || strings.Trim(link, "abcdefghijklmnopqrstuvwxyz234567") != "" {
		t.Fatalf("payload %q", link)
	}
	h := w.to(tom, 0, "/start "+link)
	if !strings.Contains(h.said(), "Tom joined by your link") || !strings.Contains(h.said(), "You are in Nora's book") {
		t.Errorf("said %q", h.said())
	}
	w.mustPass(w.to(tom, 0, "sg 1.048"), 1)
	w.mustNot(w.to(mal, 0, "/start "+link)) // used up
	late := w.link(nora, "invite")
	w.now = w.now.Add(25 * time.Hour)
	w.mustNot(w.to(ines, 0, "/start "+late)) // expired
	if h := w.to(tom, 0, "invite"); h.said() != say.KeeperOnly() {
		t.Errorf("a member's invite: %q", h.said())
	}
}

func TestInviteIsUsedUpOnlyWithTheAdmission(t *testing.T) {
	w := newWorld(t)
	w.to(nora, 0, testCode)
	link := w.link(nora, "invite")
	failed := errors.New("disk")
	err := w.db.Update(t.Context(), func(tx *store.Tx) error {
		_, _, v, err := w.a.Resolve(t.Context(), tx, From{User: tom.id, Name: tom.name},
			ChatInfo{Platform: platform, PlatformID: tom.id, Text: "/start " + link, Source: "a", At: w.now, Now: w.now})
		if err != nil || v.What != Handled {
			t.Errorf("%v %v", v, err)
		}
		return failed
	})
	if !errors.Is(err, failed) {
		t.Fatal(err)
	}
	w.mustNot(w.to(tom, 0, "hello"))
	if h := w.to(tom, 0, "/start "+link); h.verdict.What != Handled {
		t.Errorf("the link was used up by a transaction that failed: %q", h.said())
	}
}

func TestHouseholdsAreApart(t *testing.T) {
	w := household(t)
	if h := w.to(tom, 0, "new household"); h.said() != say.HostOnly() {
		t.Errorf("a member's household: %q", h.said())
	}
	link := w.link(nora, "new household")
	w.to(ines, 0, "/start "+link)
	h := w.to(ines, 0, "hello")
	w.mustPass(h, 2)
	if !h.member.Keeper || h.member.Host {
		t.Errorf("%+v", h.member)
	}
	mine := w.link(ines, "invite")
	if h := w.to(tom, 0, "/start "+mine); h.said() != say.OtherBook() {
		t.Errorf("a private chat in two books: %q", h.said())
	}
	w.mustPass(w.to(tom, 0, "hello"), 1)
	if got := w.to(ines, 0, "members").said(); strings.Contains(got, "Nora") || strings.Contains(got, "Tom") {
		t.Errorf("another book's people: %q", got)
	}
	if h := w.to(ines, 0, "remove Tom"); len(h.outs) != 0 {
		t.Errorf("removing from another book: %q", h.said())
	}
}

func TestTexts(t *testing.T) {
	long := strings.Repeat("Maximiliane ", 5)
	for _, text := range []string{
		say.Unclaimed(), say.Claimed(0), say.Claimed(12), say.NewHost(long), say.Stranger(), say.StrangerGroup(), say.Joined(long),
		say.NewBook(), say.Welcome(long), say.LinkDead(), say.OtherBook(), say.GroupAdmitted(long), say.GroupElsewhere(), say.Hidden(),
		say.Seen(), say.KeeperOnly(), say.HostOnly(), say.InPrivate(), say.NoSuchMember(long), say.TwoSuchMembers(long), say.AskRemove(long),
		say.AskRemoveAgain(long), say.AskInvite(), say.AskInviteAgain(), say.AskHousehold(), say.AskHouseholdAgain(), say.KeeperAlready(),
		say.Removed(long), say.AskKeeper(long), say.AskKeeperAgain(long), say.OfferKeeper(long), say.KeeperAsked(long), say.NoPrivate(long),
		say.KeeperNow(long), say.AskLeave(), say.Left(), say.KeeperCannotLeave(), say.Unchanged(), say.Flood(), say.Parked(), say.OffTooLong(300),
		say.MemberLine(12, "Nora", true, true), say.ChatLine("Cellar", true),
	} {
		lines := strings.Split(text, "\n")
		if len(lines) > 5 {
			t.Errorf("%d lines: %q", len(lines), text)
		}
		for _, l := range lines {
			if n := len([]rune(l)); n > 41 {
				t.Errorf("%d characters: %q", n, l)
			}
		}
	}
}

// TestAskedTwice goes through all that opens a book or takes something from it: one
// yes does nothing yet, a no ends it, and it is the keeper's, in private.
func TestAskedTwice(t *testing.T) {
	for _, c := range []struct {
		text, first, second string
		done                func(w *world) bool
	}{
		{"invite", say.LabelLink, say.LabelYes, func(w *world) bool { return w.invites() > 1 }}, // one let Tom in
		{"new household", say.LabelLink, say.LabelYes, func(w *world) bool { return w.invites() > 1 }},
		{"remove Tom", say.LabelRemove, say.LabelYes, func(w *world) bool { return w.to(tom, 0, "x").verdict.What != Pass }},
	} {
		w := household(t)
		w.to(nora, group, "/admit")
		for who, h := range map[string]heard{"a member": w.to(tom, 0, c.text), "in the group": w.to(nora, group, c.text)} {
			if got := h.said(); got != say.KeeperOnly() && got != say.HostOnly() && got != say.InPrivate() {
				t.Errorf("%s, %s: %q", c.text, who, got)
			}
		}
		ask := w.to(nora, 0, c.text)
		if h := w.press(nora, ask.outs[0], say.LabelNo); h.said() != say.Unchanged() {
			t.Errorf("%s, no: %q", c.text, h.said())
		}
		again := w.press(nora, ask.outs[0], c.first)
		w.mustNot(w.press(tom, again.outs[0], c.second)) // forwarded to him
		if c.done(w) {
			t.Errorf("%s: done after one yes", c.text)
		}
		w.press(nora, again.outs[0], c.second)
		if !c.done(w) {
			t.Errorf("%s: not done after the second yes", c.text)
		}
		if h := w.press(nora, again.outs[0], c.second); h.payload() != "" {
			t.Errorf("%s: a second press makes a second link", c.text)
		}
	}
}
