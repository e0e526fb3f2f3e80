package telegram

import (
	"fmt"
	"strings"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// hostile are names and notes that break programs: markup, SQL, a CSV formula,
// directions and invisible characters (Unicode 15, table 4-7), a flood of
// combining marks, and length.
var hostile = []string{
	`<b>damson</b>`, `<script>alert(1)</script>`, `<a href="tg://user?id=1">x</a>`, `&lt;&#0;&amp;`, `</pre><code>`,
	`x'); DROP TABLE entry; --`, `" OR 1=1 --`, `%s%d%n`, `{{.}}`, `=HYPERLINK("http://x")`, `../../etc/passwd`, `$(reboot)`,
	"\u202Enosmad\u202C", "\u2066damson\u2069\u200F", "dam\u200Bs\u200Don\uFEFF", "\u0000", "a\u0000b", "z" + strings.Repeat("\u0301", 300),
	"דמסון", "ダムソン", "🍷🍷🍷", "damson\r\nnew elder 5 l", "*_~`[]()", strings.Repeat("long ", 800),
}

func TestHostileNamesOfBatches(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, c := r.damson()
	before := r.entries()
	for _, name := range hostile {
		r.clock.add(1e12)
		got := r.hear(nora, c, "new batch "+name+" 23 l")
		small(t, name, got.Text)
	}
	r.clock.add(1e12)
	if got := r.hear(nora, c, "#1 sg 1.080 at 20c").Text; !strings.HasPrefix(got, "damson") {
		t.Errorf("after all that: %q", got)
	}
	r.stop()
	if after := r.entries(); !strings.HasPrefix(after, before) {
		t.Errorf("the book was\n%s\nand is\n%s", before, after)
	}
}

// TestHostileNotes: what was typed is kept to the letter, and its answer is plain.
func TestHostileNotes(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, c := r.damson()
	for _, text := range hostile {
		r.clock.add(1e12)
		n := len(c.FromBot())
		id := nora.Say(c, "note "+text)
		small(t, text, c.WaitBot(t, n+1)[n].Text)
		err := r.db.View(t.Context(), func(tx *store.Tx) error {
			m, err := tx.MessageByKey(c.ID, int64(id))
			if err == nil && m.Text != "note "+text {
				t.Errorf("typed %q, kept %q", text, m.Text)
			}
			return err
		})
		if err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// TestHostilePeople: names of people and groups are theirs to choose.
func TestHostilePeople(t *testing.T) {
	r := newCellar(t, loopback.Options{CanRead: true}).start()
	nora, _ := r.damson()
	for i, name := range hostile {
		r.clock.add(1e12)
		guest := r.s.Person(name)
		g := r.s.Supergroup(name, nora, guest)
		nora.AddBot(g)
		small(t, name, g.WaitBot(t, 1)[0].Text)
		guest.Say(g, "#1 temp 20c")
		r.s.WaitIdle(t)
		r.clock.add(1e12)
		n := len(nora.Private().FromBot())
		nora.Say(nora.Private(), "members")
		got := nora.Private().WaitBot(t, n+1)[n]
		if strings.Contains(got.Text, "\u202E") || strings.Contains(got.Text, "\u0000") {
			t.Errorf("%d: %q", i, got.Text)
		}
	}
	if n := strings.Count(r.entries(), " temp "); n != len(hostile)+1 { // one of them is nora's
		t.Errorf("%d of %d guests' readings are in the book", n-1, len(hostile))
	}
}

// TestBrokenText: halves of surrogate pairs, a NUL, and a text longer than any
// client sends come as escapes in the JSON of an update.
func TestBrokenText(t *testing.T) {
	r := newCellar(t, loopback.Options{}).start()
	nora, c := r.damson()
	before := r.entries()
	for i, text := range []string{`note \ud800 high`, `note low \udc00`, `new \udfff 5 l`, `\ud83c`, `note \u0000`, `sg 1.0\ud80080`,
		"note " + strings.Repeat("x", 10_000), strings.Repeat("1.048 ", 10_000), strings.Repeat("9", 10_000), "new " + strings.Repeat("é", 10_000) + " 5 l"} {
		r.clock.add(1e12)
		n := len(c.FromBot())
		r.s.Raw("message", raw(5000+i, nora, r.clock.now(), text))
		small(t, fmt.Sprintf("%.40q", text), c.WaitBot(t, n+1)[n].Text)
	}
	if after := r.entries(); !strings.HasPrefix(after, before) || strings.Count(after, " 1.0") != strings.Count(before, " 1.0") {
		t.Errorf("the book was\n%s\nand is\n%s", before, after)
	}
}
