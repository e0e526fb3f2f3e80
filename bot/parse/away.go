package parse

import (
	"strconv"
	"strings"
	"time"
)

// awayArgs reads "away 1-15 aug, jo minds it", "away until sunday", "away for
// 2 weeks from 1 aug, nobody", "away over". The second day is the last one
// away; a single day is the last one where "until" stands before it.
func (r *reader) awayArgs(q *question) {
	f := r.setText()
	if hasAny(f, "cancel|over|off|not away|back|no longer") {
		q.args["over"] = true
		return
	}
	switch who := r.minds(); {
	case hasAny(f, "nobody|no one|noone|pause"):
		q.args["pause"] = true
	case who != "":
		q.args["minder"] = who
	}
	days := r.daysAhead()
	today := midnight(r.ctx.Now)
	switch {
	case len(days) > 1:
		q.args["from"], q.args["to"] = days[0], days[1]
	case len(days) == 1 && hasAny(f, "until|till|til|to"):
		q.args["from"], q.args["to"] = today, days[0]
	default:
		from := today
		if len(days) == 1 {
			from = days[0]
		}
		if n := r.lasting(); n > 0 {
			q.args["from"], q.args["to"] = from, from.AddDate(0, 0, n-1)
		} else if len(days) == 1 {
			q.args["from"], q.args["to"] = from, from
		}
	}
}

// lasting is how many days "for 10 days", "2 weeks" are; 0: none.
func (r *reader) lasting() int {
	for i := 0; i+1 < len(r.items); i++ {
		if r.items[i].kind == tNum && r.items[i].num.whole() {
			switch r.items[i+1].name(cUnit) {
			case "day":
				return int(r.items[i].num.val)
			case "week":
				return 7 * int(r.items[i].num.val)
			}
		}
	}
	return 0
}

// aheadDay is a day of the calendar while it is put together; m 0: not known.
type aheadDay struct{ y, m, d int }

// daysAhead are the days of a text that lie ahead, in their order: "1-15
// aug", "aug 1 to 15", "30 dec - 3 jan", "1.8. bis 15.8.", "saturday". A day
// without a month takes that of the next one that has it.
func (r *reader) daysAhead() []time.Time {
	var days []aheadDay
	month := 0
	now := midnight(r.ctx.Now)
	for k := 0; k < len(r.items); k++ {
		it := &r.items[k]
		switch {
		case it.is(cMonth) && (it.fold != "may" || r.beside(k)):
			m, _ := strconv.Atoi(it.name(cMonth))
			if k+1 < len(r.items) && isDay(&r.items[k+1]) && (len(days) == 0 || days[len(days)-1].m != 0) {
				month = m // "aug 1"
				continue
			}
			for i := range days {
				if days[i].m == 0 {
					days[i].m = m
				}
			}
		case it.is(cWeekday):
			w, _ := strconv.Atoi(it.name(cWeekday))
			from := now
			if n := len(days); n > 0 && days[n-1].y != 0 {
				from = time.Date(days[n-1].y, time.Month(days[n-1].m), days[n-1].d, 0, 0, 0, 0, now.Location())
			}
			t := from.AddDate(0, 0, (w-int(from.Weekday())+6)%7+1)
			days = append(days, aheadDay{t.Year(), int(t.Month()), t.Day()})
		case it.is(cFuture) && strings.HasPrefix(it.fold, "tomorrow"):
			t := now.AddDate(0, 0, 1)
			days = append(days, aheadDay{t.Year(), int(t.Month()), t.Day()})
		case it.fold == "today":
			days = append(days, aheadDay{now.Year(), int(now.Month()), now.Day()})
		case it.kind == tCode:
			days = append(days, codeDays(it.text)...)
		case isDay(it) && !(k+1 < len(r.items) && (r.items[k+1].is(cUnit) || r.items[k+1].is(cAmPm) || r.items[k+1].punct(":"))) &&
			!(k > 0 && (r.items[k-1].fold == "at" || r.items[k-1].punct(":"))):
			d := aheadDay{m: month, d: int(it.num.val)}
			if k+2 < len(r.items) && (r.items[k+1].punct("/") || r.items[k+1].punct(".")) && isDay(&r.items[k+2]) && r.items[k+2].glued {
				d.m = int(r.items[k+2].num.val)
				if r.ctx.Units == "us" && r.items[k+1].punct("/") {
					d.d, d.m = d.m, d.d
				}
				k += 2
			}
			days = append(days, d)
		case it.kind == tNum && strings.Count(it.num.typed, ".") == 1:
			if a, b, ok := strings.Cut(it.num.typed, "."); ok {
				d, err1 := strconv.Atoi(a)
				m, err2 := strconv.Atoi(b)
				if err1 == nil && err2 == nil {
					days = append(days, aheadDay{m: m, d: d})
				}
			}
		}
	}
	return laidOut(days, now)
}

// namesDate reports a date with its month among the words.
func (r *reader) namesDate() bool {
	for k := range r.items {
		if r.items[k].is(cMonth) && r.beside(k) {
			return true
		}
	}
	return false
}

// beside reports a number beside item k: "may" is a month there.
func (r *reader) beside(k int) bool {
	return k > 0 && (r.items[k-1].kind == tNum || r.items[k-1].kind == tCode) || k+1 < len(r.items) && r.items[k+1].kind == tNum
}

func isDay(it *item) bool {
	_, ok := dayNumber(it)
	return ok
}

// codeDays takes "1-15" apart; an ISO date is one day.
func codeDays(s string) []aheadDay {
	if t, err := time.Parse(time.DateOnly, s); err == nil {
		return []aheadDay{{t.Year(), int(t.Month()), t.Day()}}
	}
	var out []aheadDay
	for _, p := range strings.FieldsFunc(s, func(c rune) bool { return c == '-' || c == '–' }) {
		d, err := strconv.Atoi(p)
		if err != nil || d < 1 || d > 31 {
			return nil
		}
		out = append(out, aheadDay{d: d})
	}
	return out
}

// laidOut gives days their months and years: none before today, none before
// the one before it. A day that the calendar does not have ends the list.
func laidOut(days []aheadDay, now time.Time) []time.Time {
	var out []time.Time
	least := now
	for i, d := range days {
		if d.m == 0 && i+1 < len(days) {
			d.m = days[i+1].m
		}
		t := now
		switch {
		case d.y != 0:
			t = time.Date(d.y, time.Month(d.m), d.d, 0, 0, 0, 0, now.Location())
		case d.m != 0:
			t = time.Date(least.Year(), time.Month(d.m), d.d, 0, 0, 0, 0, now.Location())
			if t.Before(least) {
				t = time.Date(least.Year()+1, time.Month(d.m), d.d, 0, 0, 0, 0, now.Location())
			}
		default:
			t = time.Date(least.Year(), least.Month(), d.d, 0, 0, 0, 0, now.Location())
			if t.Before(least) {
				t = time.Date(least.Year(), least.Month()+1, d.d, 0, 0, 0, 0, now.Location())
			}
		}
		if t.Day() != d.d || d.m > 12 {
			return out
		}
		out, least = append(out, t), t
	}
	return out
}
