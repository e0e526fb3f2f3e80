package telegram

import (
	"bytes"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// TestFamilyEvening is what a household does on its first evening, through the
// program as it is installed: from the code that it prints to the last press.
func TestFamilyEvening(t *testing.T) {
	w, nora := newServed(t, loopback.Options{})
	tom := w.s.Person("tomasina")
	if got := start(t, tom, link(t, nora, "invite")); !strings.HasPrefix(got, "You are in nora's book") {
		t.Fatalf("invited: %q", got)
	}
	g := w.s.Supergroup("Cellar", nora, tom)
	nora.AddBot(g)
	if m := g.WaitBot(t, 1)[0]; m.Text != "This group is in nora's book.\nType here what you read and did.\nI can't see plain messages here yet.\nMake me an admin; replies work already." {
		t.Errorf("added to the group: %q", m.Text)
	}
	tom.Say(g, "damson 1.090") // hidden from the bot
	if m := next(t, tom, g, "/now@"+loopback.BotName); m.Text != "No batch yet.\nBegin with: new damson 23 l" {
		t.Errorf("a command there: %q", m.Text)
	}
	nora.Promote(g)
	g.WaitBot(t, 3)
	began := next(t, nora, g, "new damson 23 l")
	id := tom.Say(g, "1.086 24c")
	read := g.WaitBot(t, 5)[4]
	if !strings.HasPrefix(read.Text, "damson, day 0: start 1.087") || read.ReplyTo != id {
		t.Errorf("a reading: %q in reply to %d", read.Text, read.ReplyTo)
	}
	tom.Edit(g, id, "1.084 24c")
	w.s.Wait(t, "the edited answer", func() bool { return strings.HasPrefix(g.Message(read.ID).Text, "damson, day 0: start 1.085") })
	if len(g.Message(read.ID).Labels()) == 0 {
		t.Error("the edit took the buttons away")
	}
	if m := next(t, tom, g, "1.083 20c", loopback.Said{ReplyTo: began.ID}); !strings.HasPrefix(m.Text, "damson, day 0: start 1.083") {
		t.Errorf("in reply to the batch: %q", m.Text)
	}
	undone := g.FromBot()[len(g.FromBot())-1]
	nora.Press(g, undone.ID, "Undo")
	w.s.Wait(t, "the reading taken back", func() bool { return slices.Contains(g.Message(undone.ID).Labels(), "Put it back") })
	stirred := tom.Say(g, "stirred")
	w.s.Wait(t, "the sign", func() bool { return slices.Equal(g.Message(stirred).Reactions, []string{"👍"}) })
	tom.Say(g, "what a lovely day, see you at 18:30")
	if m := next(t, nora, g, "/graph"); m.Kind != "photo" || !bytes.HasPrefix(m.File, []byte("\x89PNG")) {
		t.Errorf("the graph is a %s of %d bytes", m.Kind, len(m.File))
	}
	if m := next(t, nora, g, "/sheet"); m.Kind != "document" || !bytes.HasPrefix(m.File, []byte("%PDF-")) {
		t.Errorf("the sheet is a %s of %d bytes", m.Kind, len(m.File))
	}
	for _, text := range []string{"/start", "/help", "/settings", "/next", "/book", "/bottles", "/now"} {
		m := next(t, tom, tom.Private(), text)
		lines := strings.Split(m.Text, "\n")
		if m.Text == "" || len(lines) > 5 {
			t.Errorf("%s: %q", text, m.Text)
		}
	}
	if m := next(t, tom, tom.Private(), "", loopback.Said{Extra: map[string]any{"voice": map[string]any{"file_id": "v"}}}); !strings.HasPrefix(m.Text, "I can't listen to voice notes") {
		t.Errorf("a voice note: %q", m.Text)
	}
	w.second(t)
	w.stop()
	w.start() // on the next morning
	if m := next(t, tom, g, "/now@"+loopback.BotName); !strings.HasPrefix(m.Text, "damson, day 0") || !strings.Contains(m.Text, "1.085") {
		t.Errorf("after a restart: %q", m.Text)
	}
	w.book(func(tx *store.Tx) error {
		es, err := tx.Entries(1, 1)
		if err != nil || len(es) == 0 || es[len(es)-1].AuthorName != "tomasina" {
			t.Errorf("the book does not say who did it: %+v, %v", es, err)
		}
		return err
	})
	for _, s := range []string{strings.SplitN(loopback.Token, ":", 2)[1], hostCode, "tomasina", "Cellar", "lovely", "1.084", "damson"} {
		if strings.Contains(w.out.String(), s) {
			t.Errorf("the program printed %q:\n%s", s, w.out.String())
		}
	}
}

// second starts another program on the same database, which must not touch it.
func (w *served) second(t *testing.T) {
	t.Helper()
	bin, err := stormProgram()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, "serve")
	cmd.Env = append(os.Environ(), w.env...)
	out, err := cmd.CombinedOutput()
	if cmd.ProcessState.ExitCode() != 1 || !bytes.HasPrefix(out, []byte("mustbook:")) || bytes.Count(out, []byte("\n")) != 1 {
		t.Errorf("a second program on the database: %v, %q", err, out)
	}
}

// TestPrintedCode claims with the code that the program made and printed.
func TestPrintedCode(t *testing.T) {
	w := serving(t, loopback.Options{})
	w.start()
	vera := w.s.Person("vera")
	if got := start(t, vera, ""); got != "This book has no keeper yet.\nSend me the code that the program\nprinted where it was started." {
		t.Errorf("unclaimed: %q", got)
	}
	lines := strings.Split(strings.TrimSpace(w.out.String()), "\n")
	code := lines[len(lines)-1]
	if len(code) != 12 {
		t.Fatalf("printed %q", lines)
	}
	if got := next(t, vera, vera.Private(), strings.ToUpper(code)).Text; !strings.HasPrefix(got, "You keep this book now") {
		t.Errorf("with the code: %q", got)
	}
	w.stop()
	w.out.Reset()
	w.start()
	w.s.WaitIdle(t)
	w.stop()
	if got := w.out.String(); got != "" {
		t.Errorf("a claimed book printed %q", got)
	}
}

// TestBadDayPrintsNoSecrets reads what the program printed, at its most talkative,
// while the platform and what stands before it answer all its calls with what it sent.
func TestBadDayPrintsNoSecrets(t *testing.T) {
	w, nora := newServed(t, loopback.Options{CanRead: true})
	c := nora.Private()
	vera := w.s.Person("Leonora Quillfeather")
	start(t, vera, link(t, nora, "invite"))
	next(t, vera, vera.Private(), "new damson 23 l")
	var quick []loopback.Fault
	for _, f := range citing() {
		if !slices.Contains([]int{401, 403, 404, 409, 420, 429}, f.Status) && f.MigrateTo == 0 { // those wait for minutes or close a chat
			quick = append(quick, f)
		}
	}
	for _, method := range []string{"getUpdates", "sendMessage", "getFile", "download", "answerCallbackQuery", "sendPhoto"} {
		w.s.Fail(method, quick[:6]...)
	}
	vera.Say(vera.Private(), "", loopback.Said{Photo: wall(t)})
	for i := range 12 {
		vera.Say(vera.Private(), "note: smells of pears")
		if i%4 == 0 {
			vera.Say(vera.Private(), "graph")
		}
	}
	w.s.Wait(t, "the faults to be met", func() bool { return len(w.s.CallsOf("sendMessage")) > 12 })
	w.s.Mend()
	if m := next(t, nora, c, "list"); m.Text == "" {
		t.Error("nothing is said after a bad day")
	}
	w.stop()
	out := w.out.String()
	for _, s := range append(secrets, hostCode, "pears", "damson", "Leonora") {
		if strings.Contains(out, s) {
			t.Errorf("the program printed %q:\n%s", s, out)
		}
	}
	if !strings.Contains(out, "no answer from the platform") {
		t.Errorf("it does not tell what was wrong:\n%s", out)
	}
}
