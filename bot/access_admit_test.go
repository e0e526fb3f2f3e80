package bot

import (
	"strings"
	"testing"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

func added(_ *From, c *ChatInfo) { c.Added = true }

func TestKeeperAdmitsGroup(t *testing.T) {
	for name, admit := range map[string]func(*world) heard{
		"added":  func(w *world) heard { return w.send(nora, group, "", added) },
		"admit":  func(w *world) heard { return w.to(nora, group, "/admit") },
		"link":   func(w *world) heard { return w.to(nora, group, "/start@cellar_test_bot admit") },
		"by bot": func(w *world) heard { return w.to(nora, group, "/admit@cellar_test_bot") },
	} {
		w := household(t)
		w.mustNot(w.to(tom, group, "sg 1.048"))
		if h := admit(w); h.verdict.What != Handled || !strings.HasPrefix(h.said(), "This group is in Nora's book") {
			t.Errorf("%s: %q", name, h.said())
		}
		w.mustPass(w.to(tom, group, "sg 1.048"), 1)
		h := w.to(ines, group, "sg 1.047") // everyone there is a member
		w.mustPass(h, 1)
		if h.member.Keeper || h.member.Name != "Ines" {
			t.Errorf("%s: %+v", name, h.member)
		}
	}
}

func TestOthersCannotAdmit(t *testing.T) {
	w := household(t)
	for _, p := range []person{tom, mal} {
		w.mustNot(w.to(p, group, "/admit"))
		w.mustNot(w.send(p, group, "", added))
	}
	w.mustNot(w.send(nora, group, "/admit", func(f *From, _ *ChatInfo) { f.Anonymous, f.User = true, group }))
	w.mustNot(w.to(nora, group, "sg 1.048"))
	if h := w.to(mal, group, "gas in the cellar"); h.verdict.Say != "call 112" {
		t.Errorf("a cry in a strange group: %q", h.verdict.Say)
	}
	if h := w.to(mal, group, "just chatting"); h.said() != "" {
		t.Errorf("talk in a strange group was answered: %q", h.said())
	}
	first := w.to(mal, int64(-901), "/admit")
	if second := w.to(mal, int64(-901), "/admit"); first.verdict.Say != say.StrangerGroup() || second.said() != "" {
		t.Errorf("asked twice: %q, %q", first.said(), second.said())
	}
}

func TestLeavingTheGroup(t *testing.T) {
	w := household(t)
	w.to(nora, group, "/admit")
	w.mustPass(w.to(ines, group, "hello"), 1)
	w.mustPass(w.to(ines, 0, "sg 1.048"), 1) // her private chat joins through the group
	w.to(tom, group, "hello")
	w.update(func(tx *store.Tx) error {
		for _, p := range []person{ines, tom, nora} {
			if err := w.a.Leaves(tx, platform, group, p.id, w.now); err != nil {
				return err
			}
		}
		return nil
	})
	w.mustNot(w.to(ines, 0, "sg 1.047"))
	w.mustPass(w.to(tom, 0, "hello"), 1)  // came by a link
	w.mustPass(w.to(nora, 0, "hello"), 1) // keeps the book
	w.mustPass(w.to(ines, group, "back again"), 1)
}

func TestLeavingSeenByAsking(t *testing.T) {
	w := household(t)
	w.to(nora, group, "/admit")
	w.to(ines, group, "hello")
	w.to(ines, 0, "hello")
	asks := func() (int64, bool) {
		var g int64
		var ok bool
		w.update(func(tx *store.Tx) error { g, ok = w.a.Doubt(tx, platform, ines.id, ines.id); return nil })
		return g, ok
	}
	if g, ok := asks(); !ok || g != group {
		t.Fatalf("doubt about Ines: group %d, %v", g, ok)
	}
	if !w.a.Due(ines.id, ines.id, w.now) || w.a.Due(ines.id, ines.id, w.now.Add(23*time.Hour)) || !w.a.Due(ines.id, ines.id, w.now.Add(25*time.Hour)) {
		t.Error("the platform is to be asked once a day")
	}
	w.mustNot(w.send(ines, 0, "sg 1.048", func(f *From, _ *ChatInfo) { f.Gone = true }))
	w.mustNot(w.to(ines, 0, "sg 1.048"))
	var tomAsked bool
	w.update(func(tx *store.Tx) error { _, tomAsked = w.a.Doubt(tx, platform, tom.id, tom.id); return nil })
	if tomAsked {
		t.Error("Tom came by a link; no group speaks for him")
	}
}

func TestRemove(t *testing.T) {
	w := household(t)
	w.to(nora, group, "/admit")
	w.mustPass(w.to(tom, group, "hello"), 1)
	if h := w.to(tom, 0, "remove Nora"); h.said() != say.KeeperOnly() {
		t.Errorf("a member removes the keeper: %q", h.said())
	}
	if h := w.to(nora, group, "remove Tom"); h.said() != say.InPrivate() {
		t.Errorf("in the group: %q", h.said())
	}
	ask := w.to(nora, 0, "remove tom")
	if len(ask.outs) != 1 || ask.said() != say.AskRemove("Tom") {
		t.Fatalf("asked %q", ask.said())
	}
	w.mustPass(w.to(tom, 0, "still here"), 1)
	w.mustNot(w.press(tom, ask.outs[0], say.LabelRemove)) // a forwarded button: not his chat
	ask = w.press(nora, ask.outs[0], say.LabelRemove)
	if h := w.press(nora, ask.outs[0], say.LabelYes); h.said() != say.Removed("Tom") {
		t.Errorf("pressed: %q", h.said())
	}
	w.mustNot(w.to(tom, 0, "hello"))
	w.mustNot(w.to(tom, group, "hello")) // standing in the group does not bring him back
	link := w.link(nora, "invite")
	w.to(tom, 0, "/start "+link)
	w.mustPass(w.to(tom, 0, "hello"), 1)
	w.mustPass(w.to(tom, group, "hello"), 1)
}

func TestRemoveUnderTheNews(t *testing.T) {
	w := newWorld(t)
	w.to(nora, 0, testCode)
	h := w.to(tom, 0, "/start "+w.link(nora, "invite"))
	for _, o := range h.outs {
		if strings.HasPrefix(o.Text, "Tom joined") {
			w.press(nora, o, say.LabelRemove)
		}
	}
	w.mustNot(w.to(tom, 0, "hello"))
}

func TestHandingOn(t *testing.T) {
	w := household(t)
	ask := w.to(nora, 0, "make Tom keeper")
	again := w.press(nora, ask.outs[0], say.LabelHandOn)
	if again.said() != say.AskKeeperAgain("Tom") {
		t.Fatalf("second question %q", again.said())
	}
	offer := w.press(nora, again.outs[0], say.LabelSure)
	if !w.to(nora, 0, "x").member.Keeper {
		t.Error("the book changed hands before it was accepted")
	}
	var letter store.Out
	for _, o := range offer.outs {
		if strings.HasPrefix(o.Text, "Nora wants") {
			letter = o
		}
	}
	w.mustNot(w.press(nora, letter, say.LabelAccept)) // not her chat
	w.press(tom, letter, say.LabelAccept)
	if !w.to(tom, 0, "x").member.Keeper || w.to(nora, 0, "x").member.Keeper {
		t.Error("after acceptance Tom alone keeps the book")
	}
	w.press(tom, letter, say.LabelAccept) // again: nothing
	if h := w.to(tom, 0, "make Tom keeper"); h.said() != say.KeeperAlready() {
		t.Errorf("to oneself: %q", h.said())
	}
	if h := w.to(nora, 0, "invite"); h.said() != say.KeeperOnly() {
		t.Errorf("the keeper of before invites: %q", h.said())
	}
	if h := w.to(tom, 0, "new household"); h.said() != say.HostOnly() {
		t.Errorf("the new keeper is not the host: %q", h.said())
	}
}

func TestLeave(t *testing.T) {
	w := household(t)
	if h := w.to(nora, 0, "leave"); h.said() != say.KeeperCannotLeave() {
		t.Errorf("the keeper leaves: %q", h.said())
	}
	ask := w.to(tom, 0, "leave")
	w.press(tom, ask.outs[0], say.LabelLeave)
	w.mustNot(w.to(tom, 0, "hello"))
}

func TestAnonymousMayLogOnly(t *testing.T) {
	w := household(t)
	w.to(nora, group, "/admit")
	anon := func(f *From, _ *ChatInfo) { f.Anonymous, f.User, f.Name = true, group, "Cellar" }
	w.mustPass(w.send(nora, group, "sg 1.048", anon), 1)
	for _, text := range []string{"invite", "new household", "make Tom keeper", "remove Tom"} {
		if h := w.send(nora, group, text, anon); h.said() != say.KeeperOnly() && h.said() != say.HostOnly() {
			t.Errorf("%q: %q", text, h.said())
		}
	}
}

func TestMembersList(t *testing.T) {
	w := household(t)
	w.send(nora, group, "", func(_ *From, c *ChatInfo) { c.Added, c.Hidden = true, true })
	got := strings.Split(w.to(tom, 0, "members").said(), "\n")
	if len(got) != 3 || !strings.Contains(got[0], "Nora, keeper and host") || !strings.Contains(got[1], "Tom") || got[2] != "group Cellar, sees no plain text" {
		t.Errorf("members: %q", got)
	}
}

func TestSilencedChatWakesWhenSpokenIn(t *testing.T) {
	w := household(t)
	w.update(func(tx *store.Tx) error { return w.a.Silence(tx, platform, tom.id) })
	if h := w.to(tom, 0, "hello"); h.chat.Silent {
		t.Error("still silent although Tom wrote")
	}
}
