package script

import (
	"fmt"
	"strings"
	"time"
)

// Verb says what a step does.
type Verb string

// The verbs of a dated line.
const (
	Says    Verb = "says"
	Presses Verb = "presses"
	Edits   Verb = "edits"
	Replies Verb = "replies"
	Sends   Verb = "sends"
	Waits   Verb = "waits" // a lone "."
	Test    Verb = "test"  // restart, redeliver, drop, check: for tests alone
)

// Step is one dated line.
type Step struct {
	Line   int
	At     time.Time
	Verb   Verb
	Who    string
	Chat   string // group by name, or "private"
	Quoted string // label pressed, text found, file sent
	Text   string
	Expect []string // lines of the bot below it, for tests
}

// Story is a file.
type Story struct {
	Title  string
	Zone   *time.Location
	Units  string
	Groups map[string][]string
	Steps  []Step
	Files  map[string]string // txtar files at the end
}

// BadLine is a line that cannot be read or played, with its number.
type BadLine struct {
	Line int
	Why  string
}

func (b *BadLine) Error() string { return fmt.Sprintf("line %d: %s", b.Line, b.Why) }

type reader struct {
	s     *Story
	zone  func(string) (*time.Location, error)
	group string
	last  time.Time
}

// Parse reads a file. zone loads a time zone by its name.
func Parse(src string, zone func(string) (*time.Location, error)) (*Story, error) {
	r := &reader{s: &Story{Zone: time.UTC, Units: "metric", Groups: map[string][]string{}, Files: map[string]string{}}, zone: zone}
	lines := strings.Split(strings.ReplaceAll(src, "\r\n", "\n"), "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, "-- ") && strings.HasSuffix(strings.TrimSpace(l), " --") {
			r.files(lines[i:])
			break
		}
		if err := r.line(i+1, l); err != nil {
			return nil, err
		}
	}
	return r.s, nil
}

func (r *reader) files(lines []string) {
	name := ""
	for _, l := range lines {
		if strings.HasPrefix(l, "-- ") && strings.HasSuffix(strings.TrimSpace(l), " --") {
			name = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(l), "-- "), " --"))
			r.s.Files[name] = ""
			continue
		}
		r.s.Files[name] += l + "\n"
	}
}

func (r *reader) line(n int, l string) error {
	t := strings.TrimSpace(l)
	switch {
	case t == "":
		return nil
	case strings.HasPrefix(t, "#"):
		if r.s.Title == "" {
			r.s.Title = strings.TrimSpace(strings.TrimLeft(t, "# "))
		}
		return nil
	case strings.HasPrefix(l, "bot") || strings.HasPrefix(l, "   |"):
		if k := len(r.s.Steps); k > 0 {
			r.s.Steps[k-1].Expect = append(r.s.Steps[k-1].Expect, l)
		}
		return nil
	case !startsWithDate(t):
		return r.header(n, t)
	}
	return r.step(n, t)
}

func startsWithDate(t string) bool {
	_, err := time.Parse("2006-01-02", strings.SplitN(t, " ", 2)[0])
	return err == nil
}

func (r *reader) header(n int, t string) error {
	key, rest, _ := strings.Cut(t, " ")
	rest = strings.TrimSpace(rest)
	switch key {
	case "zone":
		z, err := r.zone(rest)
		if err != nil || rest == "" || rest == "Local" {
			return &BadLine{n, fmt.Sprintf("no such zone: %q; write it like Europe/Dublin", rest)}
		}
		r.s.Zone = z
		return nil
	case "units":
		if rest != "metric" && rest != "us" && rest != "uk" {
			return &BadLine{n, "units are metric, us or uk"}
		}
		r.s.Units = rest
		return nil
	case "group":
		name, people, ok := strings.Cut(rest, ":")
		if !ok {
			return &BadLine{n, "a group is written: group Cellar: nora, tom"}
		}
		r.group = strings.TrimSpace(name)
		for _, p := range strings.Split(people, ",") {
			if p = strings.TrimSpace(p); p != "" {
				r.s.Groups[r.group] = append(r.s.Groups[r.group], p)
			}
		}
		return nil
	}
	return &BadLine{n, "a line begins with a date and a time, or with zone, units, group"}
}

func (r *reader) step(n int, t string) error {
	if len(t) < 16 {
		return &BadLine{n, "a date wants a time behind it: 2026-09-12 18:30"}
	}
	at, err := time.ParseInLocation("2006-01-02 15:04", t[:16], r.s.Zone)
	if err != nil {
		return &BadLine{n, "a date wants a time behind it: 2026-09-12 18:30"}
	}
	if at.Before(r.last) {
		return &BadLine{n, "time goes back here"}
	}
	r.last = at
	s := Step{Line: n, At: at, Chat: "private"}
	if r.group != "" {
		s.Chat = r.group
	}
	if err := s.say(strings.TrimSpace(t[16:])); err != nil {
		return &BadLine{n, err.Error()}
	}
	r.s.Steps = append(r.s.Steps, s)
	return nil
}

// say reads what stands behind the time.
func (s *Step) say(t string) error {
	switch word, _, _ := strings.Cut(t, " "); {
	case t == ".":
		s.Verb = Waits
		return nil
	case t == "restart" || t == "redeliver" || word == "drop" || word == "check":
		s.Verb, s.Text = Test, t
		return nil
	}
	who, rest := cutWord(t)
	s.Who = strings.TrimSuffix(who, ":")
	if s.Who == "" {
		return fmt.Errorf("who speaks? write: nora: sg 1.048")
	}
	if strings.HasSuffix(who, ":") {
		s.Verb, s.Text = Says, rest
		return nil
	}
	if where, ok := strings.CutPrefix(rest, "in "); ok {
		var found bool
		if s.Chat, rest, found = cutChat(where); !found {
			return fmt.Errorf("write: %s in Cellar: text", s.Who)
		}
		if strings.HasPrefix(rest, ":") {
			s.Verb, s.Text = Says, strings.TrimSpace(rest[1:])
			return nil
		}
	}
	return s.verb(rest)
}

// cutChat splits "Cellar: text" or `Cellar presses "L"` behind the chat's name.
func cutChat(t string) (chat, rest string, ok bool) {
	for _, mark := range []string{" presses ", " edits ", " replies to ", " sends "} {
		if i := strings.Index(t, mark); i >= 0 && (strings.IndexByte(t, ':') < 0 || i < strings.IndexByte(t, ':')) {
			return strings.TrimSpace(t[:i]), strings.TrimSpace(t[i:]), true
		}
	}
	i := strings.IndexByte(t, ':')
	if i < 0 {
		return "", "", false
	}
	return strings.TrimSpace(t[:i]), t[i:], true
}

func (s *Step) verb(t string) error {
	for _, v := range []struct {
		mark string
		verb Verb
		text bool
	}{{"presses ", Presses, false}, {"edits ", Edits, true}, {"replies to ", Replies, true}} {
		rest, ok := strings.CutPrefix(t, v.mark)
		if !ok {
			continue
		}
		q, behind, ok := quoted(rest)
		if !ok {
			return fmt.Errorf("%s wants its text in quotes", strings.TrimSpace(v.mark))
		}
		s.Verb, s.Quoted = v.verb, q
		if v.text {
			if !strings.HasPrefix(behind, ":") {
				return fmt.Errorf("a colon and the text are missing")
			}
			s.Text = strings.TrimSpace(behind[1:])
		}
		return nil
	}
	if f, ok := strings.CutPrefix(t, "sends "); ok {
		s.Verb, s.Quoted = Sends, strings.TrimSpace(f)
		return nil
	}
	return fmt.Errorf("cannot read this; write: nora: text, or nora presses \"Undo\"")
}

func cutWord(t string) (word, rest string) {
	i := strings.IndexAny(t, " :")
	if i < 0 {
		return t, ""
	}
	if t[i] == ':' {
		return t[:i+1], strings.TrimSpace(t[i+1:])
	}
	return t[:i], strings.TrimSpace(t[i+1:])
}

func quoted(t string) (q, rest string, ok bool) {
	if !strings.HasPrefix(t, "\"") {
		return "", "", false
	}
	end := strings.Index(t[1:], "\"")
	if end < 0 {
		return "", "", false
	}
	return t[1 : 1+end], strings.TrimSpace(t[2+end:]), true
}
