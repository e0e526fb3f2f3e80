package parse

import (
	"strconv"
	"strings"
	"time"
)

// date takes a date in figures at item k: "2026-05-04", "3.5.",
// "03.05.2026", "12/5", "4 may", "4th of may". It is tried at every number
// that no day has claimed yet; a weekday before a date belongs to it.
func (p *timeParser) date(k int) int {
	it := &p.r.items[k]
	if p.hasDay && !p.soft && !p.weekdayOnly(k) {
		return 0
	}
	if it.kind == tCode {
		return p.codeDate(it.text)
	}
	if n := p.dayMonth(k); n > 0 {
		return n
	}
	if n := p.slashDate(k); n > 0 {
		return n
	}
	return p.dotDate(k)
}

// weekdayOnly lets a date follow its weekday: "Sun 12 Apr". The date wins:
// nobody checks the calendar before typing a weekday.
func (p *timeParser) weekdayOnly(k int) bool {
	for j := k - 1; j >= 0 && j >= k-2; j-- {
		if p.r.items[j].is(cWeekday) {
			return true
		}
	}
	return false
}

// codeDate reads an ISO date or one with points and a year. Two-digit
// years are of this century.
func (p *timeParser) codeDate(s string) int {
	for _, layout := range []string{"2006-01-02", "2.1.2006", "2.1.06", "2-1-2006", "2006.01.02"} {
		if t, err := time.ParseInLocation(layout, s, p.now.Location()); err == nil && plausibleYear(t.Year(), p.now) {
			p.setDay(t)
			return 1
		}
	}
	return 0
}

// plausibleYear keeps other numbers of four digits from being years.
// One that lies ahead is understood, so that it can be asked about.
func plausibleYear(y int, now time.Time) bool { return y > now.Year()-60 && y < 2100 }

// dayMonth reads "4 may", "4th of may 2026", "3. Mai". "1.035 may 4" is no
// fourth date form: the number before the month has a point and is passed
// over.
func (p *timeParser) dayMonth(k int) int {
	items := p.r.items
	d, ok := dayNumber(&items[k])
	if !ok {
		return 0
	}
	j := k + 1
	ord := items[k].kind == tWord
	for j < len(items) && j < k+3 && (items[j].is(cOrd) && items[j].glued || items[j].fold == "of" || items[j].fold == "de" || items[j].punct(".")) {
		ord = ord || items[j].is(cOrd) && items[j].fold != "de"
		j++
	}
	if j < len(items) && items[j].is(cMonth) && items[j].batch == 0 {
		m, _ := strconv.Atoi(items[j].name(cMonth))
		j++
		return p.setMonthDay(m, d, j) - k
	}
	if ord && items[k].kind == tNum && items[k+1].glued {
		if p.countsThing(k, j) {
			items[k].used, items[k+1].used = "count", "count"
			return 0
		}
		y, m, dd := p.now.Date()
		t := time.Date(y, m, d, 0, 0, 0, 0, p.now.Location())
		if d > dd {
			t = time.Date(y, m-1, d, 0, 0, 0, 0, p.now.Location())
		}
		p.setDay(t)
		return 2
	}
	return 0
}

// countsThing reports an ordinal at k that counts what stands at j, with no sign between:
// "3rd time", "2nd reading this week". "on the 3rd" is a day, whatever follows.
func (p *timeParser) countsThing(k, j int) bool {
	items := p.r.items
	if j >= len(items) || items[j].kind != tWord || items[j].batch > 0 || k > 1 && items[k-1].fold == "the" && items[k-2].fold == "on" || k > 0 && items[k-1].fold == "on" {
		return false
	}
	it := &items[j]
	return it.has(cManner, "counted") || it.is(cUnit) || it.is(cNoun) || it.is(cNewword) || it.name(cAct) == "read"
}

// monthFirst reads "may 4", "april 30th". A month's name alone is no date.
// "may" is also a verb: without a day behind it the month is no date, and
// a number with a unit is no day.
func (p *timeParser) monthFirst(k int) int {
	items := p.r.items
	if p.hasDay && !p.soft && !p.weekdayOnly(k) || k+1 >= len(items) {
		return 0
	}
	d, ok := dayNumber(&items[k+1])
	if !ok || k+2 < len(items) && (items[k+2].is(cUnit) && !items[k+2].is(cOrd) || items[k+2].is(cMonth)) {
		return 0
	}
	m, _ := strconv.Atoi(items[k].name(cMonth))
	j := k + 2
	if j < len(items) && items[j].is(cOrd) && items[j].glued {
		j++
	}
	return p.setMonthDay(m, d, j) - k
}

// dayNumber reads a whole number from 1 to 31.
func dayNumber(it *item) (int, bool) {
	if o := it.name(cOrdinal); o != "" && it.kind == tWord {
		d, err := strconv.Atoi(o)
		return d, err == nil
	}
	if it.kind != tNum || !it.num.whole() || it.num.val < 1 || it.num.val > 31 {
		return 0, false
	}
	return int(it.num.val), true
}

// setMonthDay keeps the date, with the year that may follow at item j, and
// returns the item after it. A gravity typed without its point looks like
// a year (1048), so a year must be near now.
func (p *timeParser) setMonthDay(m, d, j int) int {
	y := 0
	if j < len(p.r.items) {
		if it := &p.r.items[j]; it.kind == tNum && it.num.whole() && len(it.num.digits) == 4 && plausibleYear(int(it.num.val), p.now) && it.num.val > 1900 {
			y = int(it.num.val)
			j++
		}
	}
	if !p.setYMD(y, m, d) { // "31 february"
		p.vague = true
	}
	return j
}

// setYMD keeps a date; without a year it is the newest that is not in the
// future. 29 February goes back to the newest year that had one. A day
// that no year has is refused.
func (p *timeParser) setYMD(y, m, d int) bool {
	given := y > 0
	if !given {
		y = p.now.Year()
	}
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, p.now.Location())
	if !given && t.After(p.now) {
		t = time.Date(y-1, time.Month(m), d, 0, 0, 0, 0, p.now.Location())
		p.far = p.now.Sub(t) > 330*24*time.Hour
	}
	for back := 0; !given && t.Day() != d && back < 8; back++ { // 29 February: the newest that there was
		y--
		t = time.Date(y, time.Month(m), d, 0, 0, 0, 0, p.now.Location())
	}
	if t.Day() != d {
		return false
	}
	p.setDay(t)
	return true
}

// slashDate reads "12/5" and "12/5/26" in the order of the house: the
// month first in the US. A fraction before a unit is none. Of 12/5 and
// 5/12 only the house knows which comes first; where one of them is above
// twelve the order is plain.
func (p *timeParser) slashDate(k int) int {
	items := p.r.items
	if k+2 >= len(items) || !items[k+1].punct("/") || !items[k+1].glued || !items[k+2].glued {
		return 0
	}
	a, ok1 := dayNumber(&items[k])
	b, ok2 := dayNumber(&items[k+2])
	if !ok1 || !ok2 {
		return 0
	}
	n, y := 3, 0
	if k+4 < len(items) && items[k+3].punct("/") && items[k+4].kind == tNum && items[k+4].num.whole() {
		y, n = int(items[k+4].num.val), 5
		if y < 100 {
			y += 2000
		}
	} else if k+3 < len(items) && (items[k+3].is(cUnit) || items[k+3].is(cNoun) || items[k+3].is(cMaterial) || items[k+3].fold == "of" || items[k+3].fold == "a") {
		return 0
	}
	if p.usFmt && a <= 12 || b > 12 {
		a, b = b, a
	}
	if b > 12 || !p.setYMD(y, b, a) {
		return 0
	}
	return n
}

// dotDate reads "3.5." with its closing point, day before month. Without
// the closing point "3.5" is a number. German, Czech, Polish and Nordic
// households write dates so.
func (p *timeParser) dotDate(k int) int {
	items := p.r.items
	it := &items[k]
	if it.num.decimals < 1 || it.num.decimals > 2 || k+1 >= len(items) || !items[k+1].punct(".") || !items[k+1].glued {
		return 0
	}
	for j := k - 1; j >= 0 && j >= k-3 && !items[j].breaks(); j-- { // "TA 6.4. pH 3.2.": what is measured ends a sentence
		if l := items[j].name(cLabel); l != "" && l != "sg" && l != "og" && l != "volume" {
			return 0
		}
	}
	ds, ms, ok := strings.Cut(it.num.typed, ".")
	d, err1 := strconv.Atoi(ds)
	m, err2 := strconv.Atoi(ms)
	if strings.HasPrefix(it.num.typed, "1.0") || strings.HasPrefix(it.num.typed, "0.") {
		return 0 // a gravity that ends a sentence
	}
	if !ok || err1 != nil || err2 != nil || d < 1 || d > 31 || m < 1 || m > 12 {
		return 0
	}
	if !p.setYMD(0, m, d) {
		return 0
	}
	return 2
}

// agoAt reads "2 days ago", "an hour ago", "vor 2 Tagen", "il y a 3
// jours". Both orders are read: the word for "ago" stands behind in
// English, Dutch, Polish and Italian, before in German, French, Spanish
// and Czech.
func (p *timeParser) agoAt(k int) int {
	items := p.r.items
	j := k
	pre := items[j].is(cAgo) && (items[j].kind == tWord)
	if pre {
		j++
	}
	if j >= len(items) {
		return 0
	}
	n, used := 0.0, 0
	if items[j].kind == tNum {
		n, used = items[j].num.val, 1
	} else if w, ok := items[j].wordCount(); ok {
		n, used = w, 1
	}
	if used == 0 && !pre && timeUnit(items[j].name(cUnit)) && j+1 < len(items) && items[j+1].is(cAgo) { // "fortnight ago"
		n, j = 1, j-1
		used = 1
	}
	if used == 0 && pre && timeUnit(items[j].name(cUnit)) { // "před hodinou"
		n, used, j = 1, 1, j-1
	}
	if used == 0 || j+1 >= len(items) || n > 1000 {
		return 0
	}
	unit := items[j+1].name(cUnit)
	if !timeUnit(unit) {
		return 0
	}
	end := j + 2
	if end+1 < len(items) && items[end].fold == "and" && items[end+1].name(cNumber) == ".5" { // "an hour and a half ago"
		n, end = n+0.5, end+2
	}
	if !pre {
		if end >= len(items) || !items[end].is(cAgo) || items[end].fold == "vor" || items[end].fold == "for" {
			return 0
		}
		end++
	}
	p.back(n, unit)
	return end - k
}

// timeUnit reports a unit of time, which measures nothing that goes into a wine.
func timeUnit(u string) bool {
	switch u {
	case "min", "hour", "day", "week", "fortnight", "month":
		return true
	}
	return false
}

// dayOfBatch reads "day 5": days since the yeast went in. Without that
// date the number is still no reading. Today's count, and one that would
// lie ahead, mean now: people count from one or from nought.
func (p *timeParser) dayOfBatch(k int) int {
	items := p.r.items
	if items[k].name(cUnit) != "day" || k+1 >= len(items) || items[k+1].kind != tNum || !items[k+1].num.whole() || items[k+1].num.val > 400 || gravityShaped(items[k+1].num) {
		return 0
	}
	b := p.r.namedBatch()
	if b == 0 {
		b = p.r.index(p.r.ctx.Active)
	}
	if b == 0 && len(p.r.ctx.Batches) == 1 {
		b = 1
	}
	if b > 0 && !p.r.ctx.Batches[b-1].Pitched.IsZero() {
		d := midnight(p.r.ctx.Batches[b-1].Pitched.AddDate(0, 0, int(items[k+1].num.val)))
		if !d.After(p.now) && !d.Equal(midnight(p.now)) {
			p.setDay(d)
			return 2
		}
	}
	p.now0 = true
	return 2
}

// back goes days on the calendar of the house, never in steps of 24 hours:
// on the day of a clock change they differ. Hours and minutes are steps of
// time.
func (p *timeParser) back(n float64, unit string) {
	switch unit {
	case "day":
		p.setDay(p.now.AddDate(0, 0, -int(n)))
	case "week":
		p.setDay(p.now.AddDate(0, 0, -int(7*n)))
	case "fortnight":
		p.setDay(p.now.AddDate(0, 0, -int(14*n)))
	case "month":
		p.setDay(p.now.AddDate(0, -int(n), 0))
	case "hour":
		p.day, p.hasDay, p.ago = p.now.Add(-time.Duration(n*60)*time.Minute), true, true
	case "min":
		p.day, p.hasDay, p.ago = p.now.Add(-time.Duration(n)*time.Minute), true, true
	}
}
