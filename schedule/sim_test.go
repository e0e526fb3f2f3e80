package schedule

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"mustbook/ferment"
)

// sim is a household with one batch whose life is played on a virtual clock: a
// script of entries and answers, and a tick whenever one is due.
type sim struct {
	t       testing.TB
	loc     *time.Location
	h       House
	kind    ferment.Kind
	name    string
	entries []ferment.Entry
	said    []Said
	house   []Said
	root    int64
	sent    []Item // in order; Due is replaced by the instant of sending
	at      []time.Time
	atOnce  []Item
	clock   time.Time
	off     bool // the program does not run
}

func mustZone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

// newSim begins a batch named after its kind unless name is given.
func newSim(t testing.TB, zone string, kind ferment.Kind, name string) *sim {
	t.Helper()
	loc := mustZone(t, zone)
	return &sim{t: t, loc: loc, h: House{Zone: loc, NoRoundUp: true}, kind: kind, name: name}
}

func (s *sim) parse(stamp string) time.Time {
	s.t.Helper()
	if len(stamp) == len("01-02 15:04") {
		stamp = "2026-" + stamp
	}
	at, err := time.ParseInLocation("2006-01-02 15:04", stamp, s.loc)
	if err != nil {
		s.t.Fatal(err)
	}
	return at
}

func (s *sim) state() *ferment.State {
	return ferment.Fold(ferment.Input{N: 1, Entries: s.entries, Zone: s.loc, Now: s.clock})
}

func (s *sim) add(e ferment.Entry) int64 {
	s.root++
	e.ID, e.Root, e.Message, e.Batch = s.root, s.root, s.root, 1
	if e.At.IsZero() {
		e.At = s.clock
	}
	e.TypedAt = s.clock
	s.entries = append(s.entries, e)
	return e.Root
}

// play runs a script: "MM-DD HH:MM what", the clock moving on with its ticks.
func (s *sim) play(script string) {
	s.t.Helper()
	for line := range strings.Lines(script) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		n := len("01-02 15:04")
		if strings.HasPrefix(line, "20") {
			n += len("2026-")
		}
		s.run(s.parse(line[:n]))
		s.do(strings.TrimSpace(line[n:]))
		s.answerAtOnce()
	}
}

// run moves the clock, ticking when something is due.
func (s *sim) run(to time.Time) {
	s.t.Helper()
	for range 100000 {
		next, ok := NextDueItems(s.items())
		if s.off || !ok || next.After(to) {
			s.clock = later(s.clock, to)
			return
		}
		s.clock = later(s.clock, next)
		s.tick()
	}
	s.t.Fatal("the tick never comes to an end")
}

func (s *sim) items() []Item {
	if len(s.entries) == 0 {
		return nil
	}
	st := s.state()
	return append(Plan(st, nil, s.h, s.said, s.clock), PlanHouse([]*ferment.State{st}, s.h, s.house, s.clock)...)
}

func (s *sim) tick() {
	s.t.Helper()
	due := dueOf(s.items(), s.clock)
	for _, it := range due {
		s.make(it)
		it.Due = s.clock
		s.sent = append(s.sent, it)
		s.at = append(s.at, s.clock)
	}
}

// make notes an item as made, and fails where its key was made before.
func (s *sim) make(it Item) {
	s.t.Helper()
	list := &s.said
	if it.Subject.Kind != BatchKind {
		list = &s.house
	}
	for _, old := range *list {
		if old.Key == it.Key {
			s.t.Fatalf("%v made twice, at %v and %v", it.Key, old.MadeAt, s.clock)
		}
	}
	*list = append(*list, Said{Key: it.Key, MadeAt: s.clock, Due: it.Due})
}

func (s *sim) answerAtOnce() {
	if len(s.entries) == 0 || s.off {
		return
	}
	for _, it := range AtOnce(s.state(), nil, s.h, s.said, s.clock) {
		s.make(it)
		s.atOnce = append(s.atOnce, it)
	}
}

// do takes one doing of a script at the clock's instant.
func (s *sim) do(what string) {
	s.t.Helper()
	word, rest, _ := strings.Cut(what, " ")
	value := func() float64 {
		f, _, _ := strings.Cut(rest, " ")
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			s.t.Fatal(err)
		}
		return v
	}
	quantity := map[string]ferment.Quantity{"sg": ferment.QSG, "ph": ferment.QPH, "so2": ferment.QFreeSO2, "volume": ferment.QVolume,
		"vessel": ferment.QVesselSize, "temp": ferment.QTemp, "room": ferment.QAmbient, "og": ferment.QOG}[word]
	units := map[string]string{"volume": "L", "vessel": "L", "temp": "C", "room": "C"}
	switch {
	case word == "." || word == "":
	case word == "off":
		s.off = true
	case word == "on":
		s.off = false
		s.tick()
	case word == "new":
		s.add(ferment.Entry{Quantity: ferment.QNewBatch, Type: string(s.kind), Text: s.name})
	case quantity == ferment.QTemp:
		s.add(ferment.Entry{Quantity: quantity, Value: value(), Has: true, Unit: "C", Type: "must"})
	case quantity != "":
		s.add(ferment.Entry{Quantity: quantity, Value: value(), Has: true, Unit: units[word]})
	case word == "add":
		s.add(ferment.Entry{Quantity: ferment.QAddition, Deed: ferment.DeedAddition, Material: rest, Value: 5, Has: true, Unit: "g"})
	case word == "bottled":
		s.add(ferment.Entry{Quantity: ferment.QBottles, Deed: ferment.DeedBottled, Value: value(), Has: true})
	case word == "flag":
		s.add(ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetFlag, Material: rest, Text: "on"})
	case word == "set":
		key, text, _ := strings.Cut(rest, "=")
		s.add(ferment.Entry{Quantity: ferment.QSetting, Key: key, Text: text})
	case word == "mute":
		s.add(ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetMute, Material: rest, Text: "on"})
	case word == "every":
		s.add(ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetInterval, Material: strings.Fields(rest)[0],
			Value: mustFloat(s.t, strings.Fields(rest)[1]), Text: "house"})
	case word == "undo":
		s.undo(rest)
	case word == "moves":
		deed, stamp, _ := strings.Cut(rest, " to ")
		s.move(deed, s.parse(stamp))
	case word == "answers":
		rule, button, _ := strings.Cut(rest, " ")
		s.answer(rule, button)
	default:
		s.add(ferment.Entry{Quantity: ferment.QEvent, Deed: what})
	}
}

func mustFloat(t testing.TB, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func (s *sim) undo(deed string) {
	s.t.Helper()
	for i := len(s.entries) - 1; i >= 0; i-- {
		if s.entries[i].Deed == deed {
			s.entries = append(s.entries[:i], s.entries[i+1:]...)
			return
		}
	}
	s.t.Fatalf("no %q to undo", deed)
}

// move edits the time of a deed: the root stays.
func (s *sim) move(deed string, to time.Time) {
	s.t.Helper()
	for i := range s.entries {
		if s.entries[i].Deed == deed {
			s.root++
			s.entries[i].ID, s.entries[i].At, s.entries[i].TypedAt = s.root, to, s.clock
			return
		}
	}
	s.t.Fatalf("no %q to move", deed)
}

// answer presses a button of the newest reminder of a rule and does what it means.
func (s *sim) answer(rule, button string) {
	s.t.Helper()
	for _, list := range [][]Said{s.said, s.house} {
		for i := len(list) - 1; i >= 0; i-- {
			r := &list[i]
			if r.Rule != rule {
				continue
			}
			e := Answer(rule, button)
			r.AnsweredAt, r.Answer, r.Muted = s.clock, button, e.Mute
			if e.Off() {
				r.SnoozedTo = e.Snooze.Until(s.h, ruleOf(rule).Weight, s.clock)
			}
			s.apply(e)
			return
		}
	}
	s.t.Fatalf("%s was not said by %v; sent: %v", rule, s.clock, s.lines(""))
}

func (s *sim) apply(e Effect) {
	switch {
	case e.Material != "":
		s.add(ferment.Entry{Quantity: ferment.QAddition, Deed: e.Deed, Material: e.Material, Value: 5, Has: true, Unit: "g"})
	case e.Deed != "":
		s.add(ferment.Entry{Quantity: ferment.QEvent, Deed: e.Deed})
	}
	if e.Flag != "" {
		s.add(ferment.Entry{Quantity: ferment.QSetting, Key: ferment.SetFlag, Material: e.Flag, Text: "on"})
	}
	if e.Key != "" {
		s.add(ferment.Entry{Quantity: ferment.QSetting, Key: e.Key, Text: e.Value})
	}
}

// lines lists what was sent under a rule, "" for all: "MM-DD HH:MM R03", with late
// and again where it was so.
func (s *sim) lines(rule string) []string {
	out := []string{}
	for _, it := range s.sent {
		if rule != "" && it.Rule != rule {
			continue
		}
		l := it.Due.In(s.loc).Format("01-02 15:04") + " " + it.Rule
		if it.Late {
			l += " late"
		}
		if it.Repeat {
			l += " again"
		}
		out = append(out, l)
	}
	return out
}

// messages counts the messages that the house did not ask for: what goes together, in
// the day's message or as one text of its minute, is one.
func (s *sim) messages() int {
	seen := map[string]bool{}
	for i, it := range s.sent {
		k := fmt.Sprint(s.at[i], it.Bundle)
		if !it.Bundle && !Gathers(it.Rule) {
			k = fmt.Sprint(i)
		}
		seen[k] = true
	}
	return len(seen)
}

func (s *sim) rules() []string {
	seen := map[string]bool{}
	var out []string
	for _, it := range append(append([]Item{}, s.sent...), s.atOnce...) {
		if !seen[it.Rule] {
			seen[it.Rule] = true
			out = append(out, it.Rule)
		}
	}
	sort.Strings(out)
	return out
}
