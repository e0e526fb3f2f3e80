package parse

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// whenOf reads the time of a gravity typed with these words.
func whenOf(t testing.TB, words string, now time.Time, units string) (When, Intent) {
	t.Helper()
	b := Batch{N: 1, Name: "gorse", Stage: "ageing"}
	in := Message(words+" 1.010", Context{Batches: []Batch{b}, Active: 1, Now: now, Units: units})
	if len(in.Entries) == 0 {
		return When{}, in
	}
	return in.Entries[0].When, in
}

// TestDates holds the date words on a fixed Wednesday evening. The expected days
// are counted on a calendar of 2026 (14 October is a Wednesday).
func TestDates(t *testing.T) {
	now := time.Date(2026, 10, 14, 20, 15, 0, 0, time.UTC)
	for words, want := range map[string]string{
		"": "now", "now": "now", "tonight": "now", "today": "now", "just now": "now",
		"yesterday": "2026-10-13", "last night": "2026-10-13", "this morning": "2026-10-14",
		"before breakfast": "2026-10-14", "before breakfast on monday": "2026-10-12", "this afternoon": "2026-10-14",
		"wednesday": "2026-10-14", "last wednesday": "2026-10-07", "tuesday": "2026-10-13", "thursday": "2026-10-08",
		"last sunday": "2026-10-11", "on friday evening": "2026-10-09", "sunday 9am": "2026-10-11T09:00",
		"yesterday 19:30": "2026-10-13T19:30", "yesterday at 7pm": "2026-10-13T19:00", "7am": "2026-10-14T07:00",
		"at 9pm": "2026-10-13T21:00", "12am": "2026-10-14T00:00", "noon": "2026-10-14T12:00", "yesterday noon": "2026-10-13T12:00",
		"at 19h30 yesterday": "2026-10-13T19:30", "gestern 19 Uhr": "2026-10-13T19:00", "half past seven pm": "2026-10-14T19:30",
		"half past seven": "2026-10-14T19:30", "quarter to 8 pm": "2026-10-14T19:45",
		"3 may": "2026-05-03", "may 3": "2026-05-03", "3rd of may": "2026-05-03", "3 May 2025": "2025-05-03", "on the 3rd": "2026-10-03",
		"on the 20th": "2026-09-20", "30 december": "2025-12-30", "29 february": "2024-02-29",
		"12/5": "2026-05-12", "12/5/26": "2026-05-12", "3.5.": "2026-05-03", "03.05.2026": "2026-05-03", "2026-05-03": "2026-05-03",
		"2 days ago": "2026-10-12", "two days ago": "2026-10-12", "a week ago": "2026-10-07", "3 weeks ago": "2026-09-23",
		"an hour ago": "2026-10-14T19:15", "90 minutes ago": "2026-10-14T18:45", "day before yesterday": "2026-10-12",
		"vor 2 Tagen": "2026-10-12", "il y a 3 jours": "2026-10-11", "hace 2 días": "2026-10-12", "2 giorni fa": "2026-10-12",
		"há 2 dias": "2026-10-12", "2 dagen geleden": "2026-10-12", "2 dni temu": "2026-10-12", "před 2 dny": "2026-10-12", "för 2 dagar sedan": "2026-10-12",
		"vorgestern": "2026-10-12", "avant-hier": "2026-10-12", "w poniedziałek": "2026-10-12", "v pondělí": "2026-10-12", "i måndags": "2026-10-12",
		"lunes": "2026-10-12", "3 de mayo": "2026-05-03", "3. Mai": "2026-05-03", "3 maggio": "2026-05-03", "3 maja": "2026-05-03",
	} {
		w, in := whenOf(t, words, now, "metric")
		if w.String() != want {
			t.Errorf("%q: %s, want %s (%s %s)", words, w, want, in.Kind, in.Ask)
		}
	}
	for words, want := range map[string]string{"12/5": "2025-12-05", "5/12": "2026-05-12", "10/13 7pm": "2026-10-13T19:00"} {
		if w, in := whenOf(t, words, now, "us"); w.String() != want {
			if len(in.Held) == 0 || in.Held[0].When.String() != want {
				t.Errorf("us %q: %s, want %s (%s %s)", words, w, want, in.Kind, in.Ask)
			}
		}
	}
}

// TestDatesAskedOrPlanned: no day can be told, or it lies ahead.
func TestDatesAskedOrPlanned(t *testing.T) {
	now := time.Date(2026, 10, 14, 20, 15, 0, 0, time.UTC)
	for words, want := range map[string]Kind{"last week": Ask, "the other day": Ask, "17 october": Ask, "2026-10-20": Ask, "tomorrow": Event, "next week": Event} {
		if _, in := whenOf(t, words, now, "metric"); in.Kind != want {
			t.Errorf("%q: %s, want %s", words, in.Kind, want)
		}
	}
}

// TestClockChange: days are counted on the calendar of the house, not in hours of 24.
func TestClockChange(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Skip("no zone database here")
	}
	// The clocks go back on 25 October 2026 and forward on 29 March 2026 (EU rule: last Sundays).
	for _, c := range []struct{ now, words, want string }{
		{"2026-10-25T00:30", "yesterday", "2026-10-24"}, {"2026-10-25T23:30", "yesterday", "2026-10-24"},
		{"2026-10-26T00:15", "yesterday 23:30", "2026-10-25T23:30"}, {"2026-03-29T23:50", "yesterday", "2026-03-28"},
		{"2026-03-30T00:10", "2 days ago", "2026-03-28"}, {"2026-03-01T10:00", "yesterday", "2026-02-28"},
		{"2024-03-01T10:00", "yesterday", "2024-02-29"}, {"2026-01-01T08:00", "yesterday 9pm", "2025-12-31T21:00"},
	} {
		now, _ := readTime(c.now, dublin)
		if w, _ := whenOf(t, c.words, now, "metric"); w.String() != c.want {
			t.Errorf("at %s %q: %s, want %s", c.now, c.words, w, c.want)
		}
	}
}

// slowDay is the obvious reference: it walks back day by day until the name fits.
func slowDay(now time.Time, fits func(time.Time) bool) string {
	for d := now; ; d = d.AddDate(0, 0, -1) {
		if fits(d) {
			return d.Format("2006-01-02")
		}
	}
}

// TestDatesAgainstReference compares the grammar with walking back day by day.
func TestDatesAgainstReference(t *testing.T) {
	months := []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}
	rapid.Check(t, func(rt *rapid.T) {
		now := time.Date(2026, 1, 1, rapid.IntRange(0, 23).Draw(rt, "hour"), 30, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 1500).Draw(rt, "day"))
		var words, want string
		switch rapid.IntRange(0, 4).Draw(rt, "form") {
		case 0:
			wd := time.Weekday(rapid.IntRange(0, 6).Draw(rt, "weekday"))
			words, want = strings.ToLower(wd.String()), slowDay(now, func(d time.Time) bool { return d.Weekday() == wd })
		case 1:
			wd := time.Weekday(rapid.IntRange(0, 6).Draw(rt, "weekday"))
			words = "last " + wd.String()
			want = slowDay(now.AddDate(0, 0, -1), func(d time.Time) bool { return d.Weekday() == wd })
		case 2:
			n := rapid.IntRange(1, 300).Draw(rt, "n")
			words, want = fmt.Sprintf("%d days ago", n), now.AddDate(0, 0, -n).Format("2006-01-02")
		case 3:
			m, d := rapid.IntRange(1, 12).Draw(rt, "m"), rapid.IntRange(1, 28).Draw(rt, "d")
			words = fmt.Sprintf("%d %s", d, months[m-1])
			want = slowDay(now, func(x time.Time) bool { return int(x.Month()) == m && x.Day() == d })
		default:
			m, d := rapid.IntRange(1, 12).Draw(rt, "m"), rapid.IntRange(1, 28).Draw(rt, "d")
			words = fmt.Sprintf("%d/%d", d, m)
			want = slowDay(now, func(x time.Time) bool { return int(x.Month()) == m && x.Day() == d })
		}
		w, in := whenOf(t, words, now, "metric")
		if in.Kind == Ask && in.Ask == "date" { // nearly a year back: asked, with the same day held
			w = in.Held[0].When
		}
		if w.String() != want && !(w.Now() && want == now.Format("2006-01-02")) {
			rt.Fatalf("%q at %s: %s, want %s (%s %s)", words, now, w, want, in.Kind, in.Ask)
		}
	})
}
