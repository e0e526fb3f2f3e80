package say

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// paragraphsOf are the texts that go out as one paragraph, which a phone breaks itself: a
// reminder told in full, and first aid, which is read out to somebody.
func paragraphsOf() []*regexp.Regexp {
	var out []*regexp.Regexp
	gap := regexp.MustCompile(`\\\{[^{}]*\\\}`)
	add := func(text string) {
		for _, t := range []string{text, continued(text)} {
			out = append(out, regexp.MustCompile("^"+gap.ReplaceAllString(regexp.QuoteMeta(t), ".+")+"$"))
		}
	}
	for _, ws := range reminders {
		for _, w := range ws {
			add(w.text)
			for i := range w.text { // with many names it goes on below, after a sentence
				if strings.HasPrefix(w.text[i:], ". ") {
					add(w.text[:i+1])
				}
			}
		}
	}
	for _, t := range dangers {
		add(t)
	}
	return out
}

// continued is a reminder's text where the names have been said in the line before.
func continued(text string) string {
	rest := strings.TrimPrefix(text, "{batch}: ")
	r, n := utf8.DecodeRuneInString(rest)
	return string(unicode.ToUpper(r)) + rest[n:]
}

// Every line that the bot says in the stories fits a phone in large letters: at most 41
// characters, the household's own choice of width. Nothing else is let through but what
// goes out as one paragraph, and that within 200.
func TestStoriesFitASmallScreen(t *testing.T) {
	files, err := filepath.Glob("../../testdata/script/*.txt")
	if err != nil || len(files) < 12 {
		t.Fatalf("%d stories, %v", len(files), err)
	}
	paragraphs, lines := paragraphsOf(), 0
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		story, _, _ := strings.Cut(string(raw), "\n-- ")
		for i, l := range strings.Split(story, "\n") {
			said, ok := strings.CutPrefix(l, "   | ")
			if !ok && strings.HasPrefix(l, "bot") {
				_, said, ok = strings.Cut(l, "> ")
			}
			if !ok || strings.HasPrefix(said, "[") {
				continue
			}
			lines++
			n := utf8.RuneCountInString(said)
			if n <= Width {
				continue
			}
			paragraph := false
			for _, p := range paragraphs {
				paragraph = paragraph || p.MatchString(said)
			}
			if !paragraph || n > ReminderLine {
				t.Errorf("%s:%d: %d characters: %q", filepath.Base(f), i+1, n, said)
			}
		}
	}
	if lines < 1000 {
		t.Errorf("only %d lines were looked at", lines)
	}
}

// A line that is too wide loses of the batch's name first, then goes on below.
func TestNarrow(t *testing.T) {
	names := func() []string { return []string{"gooseberry hedge …"} }
	for _, c := range []struct{ line, want string }{
		{"damson, day 2: primary, on course", "damson, day 2: primary, on course"},
		{"gooseberry hedge …, day 12: primary, on course", "gooseberry h…, day 12: primary, on course"},
		{"damson b: at least 9.7 % vol so far (± 0.3 %)", "damson b: at least 9.7 % vol so far\n(± 0.3 %)"},
		{"a line of nobody's that goes on and on and on", "a line of nobody's that goes on and on\nand on"},
	} {
		if got := strings.Join(Narrow([]string{c.line}, names), "\n"); got != c.want {
			t.Errorf("%q becomes %q, want %q", c.line, got, c.want)
		}
	}
}
