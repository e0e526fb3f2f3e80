package schedule

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// zones have clock changes of an hour, of half an hour, at midnight, around
// Ramadan, and none.
var zones = []string{"Europe/London", "America/New_York", "Australia/Lord_Howe", "America/Havana", "Africa/Casablanca", "Pacific/Apia", "Asia/Kolkata", "UTC"}

func TestPlacing(t *testing.T) {
	loc := mustZone(t, "Europe/London")
	day := func(s string) time.Time {
		at, err := time.ParseInLocation("2006-01-02 15:04", s, loc)
		if err != nil {
			t.Fatal(err)
		}
		return at
	}
	loud := House{Zone: loc, UrgentBreaksQuiet: true}
	late := House{Zone: loc, Bundle: 22 * 60}
	none := House{Zone: loc, QuietFrom: 60, QuietTo: 60}
	long := House{Zone: loc, Bundle: 21 * 60, QuietFrom: 60, QuietTo: 60}
	for _, c := range []struct {
		name         string
		h            House
		w            Weight
		wanted, want string
	}{
		{"bundle of the day", House{Zone: loc}, Normal, "2026-09-11 09:00", "2026-09-11 18:30"},
		{"four hours after it", House{Zone: loc}, Normal, "2026-09-11 22:30", "2026-09-11 18:30"},
		{"a minute more", House{Zone: loc}, Normal, "2026-09-11 22:31", "2026-09-12 18:30"},
		{"never a calendar day early", long, Normal, "2026-09-12 00:30", "2026-09-12 21:00"},
		{"bundle in the quiet hours", late, Normal, "2026-09-11 09:00", "2026-09-12 07:30"},
		{"own time", House{Zone: loc}, High, "2026-09-11 09:00", "2026-09-11 09:00"},
		{"last loud minute", House{Zone: loc}, Timed, "2026-09-11 21:29", "2026-09-11 21:29"},
		{"first quiet minute", House{Zone: loc}, Timed, "2026-09-11 21:30", "2026-09-12 07:30"},
		{"small hours", House{Zone: loc}, High, "2026-09-12 03:00", "2026-09-12 07:30"},
		{"end of quiet", House{Zone: loc}, High, "2026-09-12 07:30", "2026-09-12 07:30"},
		{"urgent is held", House{Zone: loc}, Urgent, "2026-09-12 03:00", "2026-09-12 07:30"},
		{"urgent where allowed", loud, Urgent, "2026-09-12 03:00", "2026-09-12 03:00"},
		{"no quiet hours", none, High, "2026-09-12 03:00", "2026-09-12 03:00"},
		{"night of the spring change", House{Zone: loc}, High, "2026-03-29 00:30", "2026-03-29 07:30"},
		{"night of the autumn change", House{Zone: loc}, High, "2026-10-25 00:30", "2026-10-25 07:30"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.h.place(c.w, day(c.wanted), time.Time{}); !got.Equal(day(c.want)) {
				t.Errorf("placed at %v, want %v", got.In(loc), c.want)
			}
		})
	}
}

// A bundle that the book did not know of goes with the next: one bundle a day.
func TestPlacingOfWhatIsLearnedLate(t *testing.T) {
	h := House{}
	wanted := time.Date(2026, 9, 11, 9, 0, 0, 0, time.UTC)
	known := time.Date(2026, 9, 12, 19, 0, 0, 0, time.UTC)
	if got, want := h.place(Normal, wanted, known), time.Date(2026, 9, 13, 18, 30, 0, 0, time.UTC); !got.Equal(want) {
		t.Errorf("placed at %v, want %v", got, want)
	}
}

// Seven days on the clock of the wall, over both changes: the daylight saving of
// London in 2026 begins on 29 March and ends on 25 October (tz database).
func TestDaysOverClockChanges(t *testing.T) {
	loc := mustZone(t, "Europe/London")
	for _, from := range []time.Time{time.Date(2026, 3, 25, 9, 15, 0, 0, loc), time.Date(2026, 10, 20, 9, 15, 0, 0, loc)} {
		if got := addDays(from, 7, loc); got.Day() != from.AddDate(0, 0, 7).Day() || got.Hour() != 9 || got.Minute() != 15 {
			t.Errorf("seven days after %v: %v", from, got)
		}
		if got := after(from, 24*time.Hour, loc); got.Sub(from) != 24*time.Hour {
			t.Errorf("24 hours after %v: %v", from, got)
		}
	}
}

// A clock time that a change skips comes after the gap, on its own day. Havana's
// clocks go from 0:00 to 1:00 on 8 March 2026; Apia had no 30 December 2011 (tz
// database).
func TestSkippedTimes(t *testing.T) {
	havana := mustZone(t, "America/Havana")
	if got := at(2026, 3, 8, 0, havana); got.Day() != 8 || got.Hour() != 1 {
		t.Errorf("midnight that is skipped: %v", got)
	}
	apia := mustZone(t, "Pacific/Apia")
	if got := at(2011, 12, 30, 18*60+30, apia); got.Day() != 31 {
		t.Errorf("a day that is skipped: %v", got)
	}
}

// Whatever the zone and the instant: nothing is placed a calendar day before it is
// due, nor in the quiet hours, nor more than a day and a night after.
func TestNothingIsEarly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		loc, err := time.LoadLocation(rapid.SampledFrom(zones).Draw(t, "zone"))
		if err != nil {
			t.Fatal(err)
		}
		h := House{Zone: loc, Bundle: rapid.SampledFrom([]int{0, 8 * 60, 12 * 60, 21 * 60}).Draw(t, "bundle")}
		wanted := time.Unix(rapid.Int64Range(1767225600, 1798761600).Draw(t, "at"), 0) // the year 2026
		w := rapid.SampledFrom([]Weight{Normal, Timed, High, Urgent}).Draw(t, "weight")
		got := h.place(w, wanted, time.Time{})
		y, m, d := wanted.In(loc).Date()
		if gy, gm, gd := got.In(loc).Date(); time.Date(gy, gm, gd, 0, 0, 0, 0, time.UTC).Before(time.Date(y, m, d, 0, 0, 0, 0, time.UTC)) {
			t.Fatalf("%v placed at %v", wanted.In(loc), got.In(loc))
		}
		if clock := got.In(loc).Format("15:04"); clock >= "21:30" || clock < "07:30" {
			t.Fatalf("%v placed at %v, in the quiet hours", wanted.In(loc), got.In(loc))
		}
		if w != Normal && got.Before(wanted) || got.Sub(wanted) > 37*time.Hour {
			t.Fatalf("%v placed at %v", wanted.In(loc), got.In(loc))
		}
	})
}
