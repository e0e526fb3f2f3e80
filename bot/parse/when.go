package parse

import (
	"strconv"
	"strings"
	"time"
)

// timeSpan is a run of items that says when something happened.
type timeSpan struct {
	from, to int // items
	when     When
	today    bool // "today" alone: now, but a date in a list of days
	future   bool // it has not happened yet
	dated    bool // it names a day
	vague    bool // a past of which no day can be told
	far      bool // a day without a year that is only just not in the future
	now      bool // "now", "tonight": the message's own time, said aloud
}

// timeParser gathers the parts of one time: a day, a part of it, a clock.
type timeParser struct {
	r     *reader
	now   time.Time
	usFmt bool

	day            time.Time
	hasDay, now0   bool
	soft           bool // the day only follows from "this morning": a weekday may replace it
	hour, min      int
	clock, clock12 bool // clock12: an hour of which nobody said whether before noon
	evening, morn  bool
	future, today  bool
	vague          bool // "last week": no day can be told
	ago            bool // an instant counted back from now
	far            bool
}

// findTimes marks every run of items that is a time. "today" in a list of
// days is its date, alone it is now (contract): that can only be told when
// all are found.
func (r *reader) findTimes() {
	defer r.markClauses()
	for i := 0; i < len(r.items); {
		s, ok := r.timeAt(i)
		if !ok {
			i++
			continue
		}
		for k := s.from; k < s.to; k++ {
			r.items[k].used = "time"
		}
		if i == 0 || !r.sinceWord(i-1) && !(r.items[i].fold == "as" && (r.items[i-1].fold == "same" || r.items[i-1].fold == "the same")) {
			r.times = append(r.times, s)
		}
		i = s.to
	}
	days := 0
	for _, s := range r.times {
		if s.dated {
			days++
		}
	}
	for i := range r.times {
		if s := &r.times[i]; s.today && days > 1 && s.when.Now() {
			s.when = When{At: midnight(r.ctx.Now), Day: true}
		}
	}
}

// sinceWord: "no change since friday" happens now.
func (r *reader) sinceWord(k int) bool {
	switch r.items[k].fold {
	case "after":
		return r.items[k+1].is(cDay)
	case "since": // "in the shed since saturday, moved it with Luc"
		return k == 0 || !r.items[k-1].is(cAmbient) || !r.says(cDeed, "moved")
	case "than", "as", "like", "seit", "depuis", "desde", "da", "sinds", "od", "sedan":
		return true
	}
	return false
}

// says reports a word of that sense anywhere in the text.
func (r *reader) says(c class, name string) bool {
	for i := range r.items {
		if r.items[i].name(c) == name {
			return true
		}
	}
	return false
}

// besideWords takes "after work" and "with the roast" out of the talk: words of
// another topic behind such a preposition only say when or how.
func (r *reader) besideWords() {
	for i := 0; i+1 < len(r.items); i++ {
		switch r.items[i].fold {
		case "before", "after", "during", "between":
		case "with":
			if r.toppedBefore(i) { // "topped up the tank with diesel"
				continue
			}
		case "for":
			if !r.opensBottles() { // "opened one for Alf's birthday"
				continue
			}
		default:
			continue
		}
		k := i + 1
		for k < len(r.items)-1 && (r.items[k].is(cArt) || r.items[k].fold == "the" || r.items[k].fold == "my" || r.items[k].fold == "our" || r.items[k].batch == 0 && strings.HasSuffix(r.items[k].fold, "'s")) {
			k++
		}
		if it := &r.items[k]; (it.is(cOther) || it.is(cOthers) && r.items[i].fold == "with") && it.used == "" && !it.cellar() && it.kind == tWord {
			for k+1 < len(r.items) && r.items[k+1].is(cOther) && !r.items[k+1].cellar() && r.items[k+1].used == "" {
				k++
			}
			for ; i <= k; i++ {
				r.items[i].used = "time"
			}
			i--
		}
	}
}

// toppedBefore reports a deed before item k that says with what it was done.
func (r *reader) toppedBefore(k int) bool {
	for j := k - 1; j >= 0 && j > k-8; j-- {
		switch r.items[j].name(cDeed) {
		case "topped up", "blended", "sweetened", "fined":
			return true
		}
	}
	return false
}

// opensBottles reports a bottle opened or given away: "for" says on what occasion.
func (r *reader) opensBottles() bool {
	for i := range r.items {
		switch r.items[i].name(cDeed) {
		case "opened", "given away", "bottled":
			return true
		}
	}
	return false
}

// midnight is the first instant of a day as the clock shows it.
func midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location())
}

// timeAt reads the longest time that begins at item i. Parts may come in
// any order: "at 9 last night", "monday 9pm", "4 may 20:15".
func (r *reader) timeAt(i int) (timeSpan, bool) {
	p := timeParser{r: r, now: r.ctx.Now, usFmt: r.ctx.Units == "us"}
	end := i
	if r.items[i].fold == "in" && i+1 < len(r.items) && !r.items[i+1].is(cMonth) && r.items[i+1].fold != "the" { // "nutrient in today"
		return timeSpan{}, false
	}
	for j := i; j < len(r.items); {
		k := j
		n := p.part(k, false)
		for n == 0 && k < len(r.items) && k < j+3 && timeJoiner(&r.items[k]) {
			k++
		}
		if k >= len(r.items) {
			break
		}
		if n == 0 && k > j {
			n = p.part(k, true)
		}
		if n == 0 && end > i && r.items[j].punct(",") && j+1 < len(r.items) && (r.items[j+1].is(cClock) || r.clockApart(j+1)) {
			n = 1
		}
		if n == 0 {
			break
		}
		j = k + n
		end = j
	}
	if end == i {
		return timeSpan{}, false
	}
	s := p.span()
	s.from, s.to = i, end
	return s, true
}

// clockApart reports an hour with its minutes that stands alone between signs behind a
// day: "at dinner time today, 12.30, was 1.047".
func (r *reader) clockApart(k int) bool {
	if r.items[k].kind != tNum || k+1 < len(r.items) && !r.items[k+1].breaks() {
		return false
	}
	h, _, ok := hourMinute(r.items[k].num)
	return ok && h < 24 && r.items[k].num.decimals == 2
}

// timeJoiner are the small words that hold the parts of a time together.
// They hold in all twelve languages; a batch called one of them is a batch.
func timeJoiner(it *item) bool {
	switch it.fold {
	case "on", "at", "of", "the", "in", "um", "am", "a", "de", "las", "alle", "o", "v", "ve", "w", "kl", "klockan", "om", "vid", "le", "el", "il", "vers", "around", "about", "gegen", "as", "los", "op", "den", "dem":
		return it.kind == tWord && it.batch == 0
	}
	return false
}

// part takes one part of a time at item k and returns its length, 0 for
// none. Numbers are dates first and clocks after, since a date needs more
// around it.
func (p *timeParser) part(k int, joined bool) int {
	it := &p.r.items[k]
	if it.batch > 0 {
		return 0
	}
	if it.kind == tNum || it.kind == tCode {
		if n := p.date(k); n > 0 {
			return n
		}
		if n := p.agoAt(k); n > 0 {
			return n
		}
		return p.clockAt(k, joined)
	}
	return p.word(k, joined)
}

// word takes a word of time. A second day does not replace the first, but
// for a weekday after "this morning".
func (p *timeParser) word(k int, joined bool) int {
	it := &p.r.items[k]
	switch {
	case it.is(cNow):
		p.now0 = true
		return 1
	case it.name(cDay) == "?":
		p.vague = true
		return 1
	case it.is(cDay) && p.r.anotherTongue(k):
		return 0
	case it.is(cDay) && (!p.hasDay || p.soft):
		d, _ := strconv.Atoi(it.name(cDay))
		p.setDay(p.now.AddDate(0, 0, d))
		p.today, p.soft = d == 0, false
		p.partOf(it.fold)
		return 1
	case it.is(cDaypart):
		if !p.hasDay {
			p.setDay(p.now)
			p.soft = true
		}
		p.today = false
		p.partOf(it.fold)
		return 1
	case it.is(cWeekday) && p.weekdayFits(k):
		p.weekday(it, k > 0 && p.r.items[k-1].is(cLast))
		if k > 0 && p.r.items[k-1].fold == "next" { // it lies ahead
			p.setDay(p.day.AddDate(0, 0, 7))
			p.future = true
		}
		return 1
	case it.is(cLast) && k+1 < len(p.r.items) && p.r.items[k+1].is(cWeekday):
		p.weekday(&p.r.items[k+1], true)
		return 2
	case it.is(cDay) && it.name(cDay) == "0": // "a week ago today"
		return 1
	case it.is(cOrdinal) && (!p.hasDay || p.soft):
		return p.dayMonth(k)
	case it.is(cMonth):
		return p.monthFirst(k)
	case it.is(cFuture):
		if p.looksMonth(k) {
			return 0
		}
		p.future = true
		return 1
	case it.is(cPart) && (p.hasDay || k+1 < len(p.r.items) && (p.r.items[k+1].is(cDay) || p.r.items[k+1].is(cWeekday))):
		p.partOf(it.fold)
		return 1
	case it.is(cClock):
		h, m, _ := strings.Cut(it.name(cClock), ":")
		p.hour, _ = strconv.Atoi(h)
		p.min, _ = strconv.Atoi(m)
		p.clock = true
		return 1
	}
	if n := p.agoAt(k); n > 0 {
		return n
	}
	if n := p.dayOfBatch(k); n > 0 {
		return n
	}
	return p.pastHour(k, joined)
}

// looksMonth reports a word that is a month's name as well.
func (p *timeParser) looksMonth(k int) bool { return p.r.items[k].is(cMonth) }

// setDay keeps a day, without its hour.
func (p *timeParser) setDay(t time.Time) { p.day, p.hasDay = midnight(t), true }

// weekdayFits keeps "sun" and "sat" out of the talk: an abbreviation that
// is also a word needs a number or the end of the message beside it. Three
// letters are enough for mon, tue, wed, thu and fri.
func (p *timeParser) weekdayFits(k int) bool {
	it := &p.r.items[k]
	if len(it.fold) > 3 || it.fold == "mon" || it.fold == "tue" || it.fold == "thu" || it.fold == "fri" || it.fold == "wed" {
		return true
	}
	if k+1 < len(p.r.items) && p.r.items[k+1].is(cPart) { // "sat night"
		return true
	}
	near := func(j int) bool {
		if j < 0 || j >= len(p.r.items) {
			return true
		}
		x := &p.r.items[j]
		return x.kind == tNum || x.kind == tLine || x.kind == tPunct || x.is(cPart) || x.is(cMonth) || x.is(cClock) || x.fold == "on" || x.fold == "last"
	}
	return near(k-1) && near(k+1) || k > 0 && p.r.items[k-1].fold == "on"
}

// weekday is the newest day of that name, today counting unless it was
// "last". Past by default (contract): on a Tuesday "tuesday" is today.
func (p *timeParser) weekday(it *item, last bool) {
	want, _ := strconv.Atoi(it.name(cWeekday))
	back := (int(p.now.Weekday()) - want + 7) % 7
	if back == 0 && last {
		back = 7
	}
	if !p.hasDay || p.soft {
		p.setDay(p.now.AddDate(0, 0, -back))
		p.soft = false
	}
}

var eveningWords = []string{"night", "evening", "abend", "nacht", "soir", "nuit", "noche", "sera", "notte", "noite", "avond", "wieczor", "nocy", "vecer", "kvall", "natt", "afternoon", "tarde", "nachmittag", "odpoledne", "poludniu", "pomeriggio", "apres-midi", "middag"}
var morningWords = []string{"morning", "breakfast", "morgen", "fruh", "matin", "manana", "mattin", "stamatt", "manha", "ochtend", "rano", "morse", "vormittag"}

// partOf remembers which half of the day was meant, for an hour said
// without it. Folded beginnings are enough for all the languages.
func (p *timeParser) partOf(w string) {
	for _, e := range eveningWords {
		if strings.Contains(w, e) {
			p.evening = true
			return
		}
	}
	for _, m := range morningWords {
		if strings.Contains(w, m) {
			p.morn = true
			return
		}
	}
}

// span is the time that the parts make together. A lone "today", like no
// time at all, is the message's own time. Ten minutes of grace cover a
// clock that runs ahead.
func (p *timeParser) span() timeSpan {
	s := timeSpan{future: p.future, dated: p.hasDay, far: p.far, vague: p.vague && !p.hasDay, now: p.now0}
	switch {
	case p.future:
		return s
	case p.ago:
		s.when = When{At: p.day}
		return s
	case p.clock:
		s.when = p.withClock()
		s.future = s.when.At.After(p.now.Add(10 * time.Minute))
		return s
	case p.hasDay && p.today && !p.morn && !p.evening:
		s.today = true
		return s
	case p.hasDay:
		s.when = When{At: p.day, Day: true}
		s.future = p.day.After(p.now)
	}
	return s
}

// withClock joins day and hour. An hour of twelve is put into the half of
// the day that was named; where none was, only the day is kept: an
// invented hour would be an error. Without a day it is the newest such
// hour that has passed. DST needs no care here: the zone's own rules place
// the wall clock's time.
func (p *timeParser) withClock() When {
	h := p.hour
	if p.clock12 && h < 12 && (p.evening || p.now0) && !p.morn {
		h += 12
	} else if p.clock12 && !p.evening && !p.morn && p.hasDay {
		return When{At: p.day, Day: true}
	}
	day := p.day
	if !p.hasDay {
		day = midnight(p.now)
	}
	y, m, d := day.Date()
	at := time.Date(y, m, d, h, p.min, 0, 0, p.now.Location())
	if p.hasDay {
		return When{At: at}
	}
	if p.clock12 && h < 12 {
		if pm := at.Add(12 * time.Hour); !pm.After(p.now) {
			return When{At: pm}
		}
	}
	if at.After(p.now.Add(10 * time.Minute)) {
		at = time.Date(y, m, d-1, h, p.min, 0, 0, p.now.Location())
		if p.clock12 && h < 12 {
			at = at.Add(12 * time.Hour)
		}
	}
	return When{At: at}
}
