package telegram

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"mustbook/bot/say"
	"mustbook/bot/telegram/loopback"
)

// TestInvitesGuessed: a stranger tries invites in a loop, with links that look like
// one, with the newest link but one letter, and with one that was used. Nobody gets in,
// and after a few tries there is silence; the household goes on, and the true link
// still opens.
func TestInvitesGuessed(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, _ := r.damson()
	before := r.entries()
	link := r.invite(nora)
	mal := r.s.Person("mal")
	last := link[len(link)-1]
	near := link[:len(link)-1] + string("ab"[map[bool]int{true: 1}[last == 'a']])
	for i := range 300 {
		r.clock.add(time.Second)
		switch i % 3 {
		case 0:
			mal.Start(fmt.Sprintf("%022d", i))
		case 1:
			mal.Start(near)
		case 2:
			mal.Start(link[:22] + strings.Repeat("a", len(link)-22+i%2))
		}
	}
	r.over(nora)
	if got := mal.Private().FromBot(); len(got) > 5 {
		t.Errorf("%d of 300 guesses were answered", len(got))
	}
	mal.Say(mal.Private(), "#1 ph 2.99")
	r.over(nora)
	r.same("guessed invites", before)
	if n := len(r.rows("members")); n != 1 {
		t.Errorf("%d members:\n%s", n, strings.Join(r.rows("members"), "\n"))
	}
	tom := r.s.Person("tom")
	tom.Start(link)
	tom.Private().WaitBot(t, 1)
	r.clock.add(time.Hour)
	r.hear(tom, tom.Private(), "#1 ph 3.31")
	if !strings.Contains(r.entries(), "ph  3.31") {
		t.Errorf("the true link opens nothing: %+v", tom.Private().FromBot())
	}
	eve := r.s.Person("eve")
	eve.Start(link) // used up
	eve.Say(eve.Private(), "#1 ph 2.98")
	r.over(nora)
	if strings.Contains(r.entries(), "2.98") {
		t.Error("a used link let a second one in")
	}
	r.alive(nora)
}

// TestFloods: a crowd of strangers, strange groups and one's own group writing as
// fast as the platform delivers. The household's reading among them is kept and
// answered, strangers leave nothing, and each is told off at most once.
func TestFloods(t *testing.T) {
	r := newCellar(t, loopback.Options{CanRead: true}).start()
	nora, c := r.damson()
	before := r.entries()
	var strangers []*loopback.User
	for i := range 60 {
		u := r.s.Person(fmt.Sprint("stranger", i))
		strangers = append(strangers, u)
		g := r.s.Group(fmt.Sprint("strange cellar ", i), u)
		if i%6 == 0 {
			u.AddBot(g)
		}
		for k := range 20 {
			u.Say(u.Private(), fmt.Sprintf("#1 ph 2.%02d", k))
			u.Say(g, "#1 ph 2.50")
		}
	}
	r.hear(nora, c, "#1 ph 3.45")
	r.over(nora)
	if got := strings.Replace(r.entries(), "ph  3.45", "", 1); strings.Count(got, "\n") != strings.Count(before, "\n")+1 || strings.Contains(got, " ph  2.") {
		t.Errorf("the book is\n%s", r.entries())
	}
	for _, u := range strangers {
		if n := len(u.Private().FromBot()); n > 1 {
			t.Errorf("%s got %d lines", u.Name, n)
		}
	}
	for _, table := range []string{"members", "chats", "outbox"} {
		if all := strings.Join(r.rows(table), "\n"); strings.Contains(all, "strange") {
			t.Errorf("strangers left traces in %s:\n%s", table, all)
		}
	}
	for i := range 500 {
		nora.Say(c, fmt.Sprintf("#1 note quick %03d", i))
	}
	r.over(nora)
	kept := strings.Count(r.entries(), "quick")
	if kept < burst-2 || kept > burst+300 {
		t.Errorf("%d of a flood of 500 were kept", kept)
	}
	told := 0
	for _, s := range texts(c.FromBot()) {
		if strings.HasPrefix(s, "Too many") {
			told++
		}
	}
	if told < 1 || told > 10 {
		t.Errorf("the flood was told %d times", told)
	}
	r.alive(nora)
}

// invite has a link made and gives what follows start= in it.
func (r *rig) invite(u *loopback.User) string {
	r.t.Helper()
	c := u.Private()
	n := len(c.FromBot())
	u.Say(c, "invite")
	for i, label := range []string{say.LabelLink, say.LabelYes} { // it is asked twice
		u.Press(c, c.WaitBot(r.t, n+1+i)[n+i].ID, label)
	}
	text := c.WaitBot(r.t, n+3)[n+2].Text
	_, link, _ := strings.Cut(text, "start=")
	if words := strings.Fields(link); len(words) > 0 && len(words[0]) > 20 {
		return words[0]
	}
	r.t.Fatalf("no link in %q", text)
	return ""
}
