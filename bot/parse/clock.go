package parse

import (
	"strconv"
	"strings"
)

// clockAt reads a clock time at item k: "19:30", "7pm", "6.50 pm",
// "19h30", "19 Uhr", and after a day or with nothing else to be, "at 8".
// Each form is tried in turn; the first that fits is taken. A number that
// a unit follows is never a clock: "at 8 l".
func (p *timeParser) clockAt(k int, joined bool) int {
	it := &p.r.items[k]
	if p.clock || it.kind != tNum || it.num.fraction || it.num.val < 0 {
		return 0
	}
	if n := p.colon(k); n > 0 {
		return n
	}
	if n := p.pastHour(k, joined); n > 0 {
		return n
	}
	if n := p.withHalf(k); n > 0 {
		return n
	}
	if n := p.hourLetter(k); n > 0 {
		return n
	}
	if n := p.dotted(k, joined); n > 0 {
		return n
	}
	if n := p.fourDigits(k, joined); n > 0 {
		return n
	}
	return p.bareHour(k, joined)
}

// fourDigits reads "at 0600", and "0430" right behind what was done: no amount and no gravity
// is typed with a nought before it, nor is an hour without one told from a gravity.
func (p *timeParser) fourDigits(k int, joined bool) int {
	items := p.r.items
	n := items[k].num
	if !n.whole() || len(n.digits) != 4 || len(n.typed) != 4 || n.digits[0] != '0' || n.val < 100 || int(n.val)%100 > 59 || k == 0 {
		return 0
	}
	if j := k + 1; j < len(items) && (items[j].kind == tNum && len(items[j].num.digits) > 2 || items[j].is(cUnit) && items[j].name(cUnit) != "hour" && items[j].glued || items[j].punct("-") && items[j].glued) {
		return 0
	}
	prev := &items[k-1]
	if !(joined && prev.fold == "at") && !prev.is(cDeed) && !(prev.kind == tWord && prev.is(cThanks) || prev.fold == "done") {
		return 0
	}
	p.hour, p.min, p.clock = int(n.val)/100, int(n.val)%100, true
	if k+1 < len(items) && (items[k+1].fold == "hrs" || items[k+1].fold == "hours" || items[k+1].fold == "h") {
		return 2
	}
	return 1
}

// dotted reads "at 7.30" and "um 19.30": a temperature has no such digits.
// "1.03" after "at" stays a gravity, and "at 19" a temperature.
func (p *timeParser) dotted(k int, joined bool) int {
	items := p.r.items
	h, m, ok := hourMinute(items[k].num)
	if ok && p.hasDay && k > 0 && items[k-1].punct(",") && p.r.clockApart(k) {
		p.hour, p.min, p.clock, p.clock12 = h, m, true, h < 12
		return 1
	}
	if !joined || !ok || gravityShaped(items[k].num) || items[k].num.decimals != 2 || h > 23 || h < 1 || k+1 < len(items) && items[k+1].is(cUnit) {
		return 0
	}
	switch items[k-1].fold {
	case "at", "um", "om", "kl", "alle", "as", "las", "o", "v", "klockan", "around", "about":
		p.hour, p.min, p.clock, p.clock12 = h, m, true, h < 12
		return 1
	}
	return 0
}

// colon reads "19:30" and "6:45pm". Two digits of minutes are asked for,
// so that a ratio like 3:1 is none.
func (p *timeParser) colon(k int) int {
	items := p.r.items
	if k+2 >= len(items) || !items[k+1].punct(":") || !items[k+1].glued || items[k+2].kind != tNum || !items[k+2].glued {
		return 0
	}
	h, m := items[k].num, items[k+2].num
	if !h.whole() || !m.whole() || h.val > 23 || m.val > 59 || len(m.digits) != 2 {
		return 0
	}
	p.hour, p.min, p.clock = int(h.val), int(m.val), true
	if k+3 < len(items) && items[k+3].is(cAmPm) && p.hour <= 12 {
		p.half(items[k+3].name(cAmPm))
		return 4
	}
	return 3
}

// withHalf reads "7pm" and "6.50pm". A full stop between hour and minutes
// is common in Britain: "6.50pm".
func (p *timeParser) withHalf(k int) int {
	items := p.r.items
	j := k + 1
	if j >= len(items) || !items[j].is(cAmPm) || items[j].fold == "am" && !items[j].glued && !p.hasDay && items[k].num.val > 12 {
		return 0
	}
	h, m, ok := hourMinute(items[k].num)
	if !ok || h < 1 || h > 12 {
		return 0
	}
	p.hour, p.min, p.clock = h, m, true
	p.half(items[j].name(cAmPm))
	return 2
}

// half moves an hour into the half of the day that was said; twelve is the
// odd one of both halves.
func (p *timeParser) half(ampm string) {
	if ampm == "pm" && p.hour < 12 {
		p.hour += 12
	}
	if ampm == "am" && p.hour == 12 {
		p.hour = 0
	}
}

// hourMinute splits "6.50" and "6" into hour and minute. Only two decimals
// are minutes.
func hourMinute(n number) (h, m int, ok bool) {
	if n.decimals < 0 {
		return int(n.val), 0, n.whole()
	}
	if n.decimals != 2 {
		return 0, 0, false
	}
	hs, ms, _ := strings.Cut(strings.Replace(n.typed, ",", ".", 1), ".")
	h, e1 := strconv.Atoi(hs)
	m, e2 := strconv.Atoi(ms)
	return h, m, e1 == nil && e2 == nil && m < 60
}

// hourLetter reads "19h30", "19h", "19 Uhr", "7 o'clock". The h of French
// and the Uhr of German end an hour; "7 o'clock" leaves its half of the
// day open.
func (p *timeParser) hourLetter(k int) int {
	items := p.r.items
	j := k + 1
	if j >= len(items) {
		return 0
	}
	h, m, ok := hourMinute(items[k].num)
	if !ok || h > 23 {
		return 0
	}
	nx := &items[j]
	if nx.glued && nx.kind == tCode && len(nx.fold) == 3 && nx.fold[0] == 'h' {
		mm, err := strconv.Atoi(nx.fold[1:])
		if err != nil || mm > 59 {
			return 0
		}
		p.hour, p.min, p.clock = h, mm, true
		return 2
	}
	if nx.is(cOclock) || nx.fold == "h" && nx.glued && p.hasDay {
		p.hour, p.min, p.clock = h, m, true
		p.clock12 = h < 12 && nx.fold != "uhr" && nx.fold != "h"
		return 2
	}
	return 0
}

// bareHour reads "at 8" beside a day, or beside a deed where no reading
// can claim the number. Above twelve it is the likelier temperature. The
// hour is dropped again (withClock) where its half of the day cannot be
// told: the contract calls an invented hour an error.
func (p *timeParser) bareHour(k int, joined bool) int {
	items := p.r.items
	n := items[k].num
	if !n.whole() || n.val < 1 || n.val > 12 {
		return 0
	}
	if !joined {
		if k+1 < len(items) && items[k+1].is(cDaypart) && (k == 0 || items[k-1].breaks()) { // "8 this morning"
			p.hour, p.min, p.clock, p.clock12 = int(n.val), 0, true, true
			return 1
		}
		return 0
	}
	if k+1 < len(items) && (items[k+1].is(cUnit) || items[k+1].is(cNoun) || items[k+1].is(cVessel) || items[k+1].kind == tNum && !gravityShaped(items[k+1].num) || items[k+1].punct("%") || items[k+1].punct(":")) {
		return 0
	}
	switch items[k-1].fold {
	case "at", "um", "om", "kl", "o", "around", "about":
	case "las", "alle", "as", "a", "klockan", "v", "ve":
		if !p.hasDay {
			return 0
		}
	default:
		return 0
	}
	dayNext := k+1 < len(items) && (items[k+1].is(cDay) || items[k+1].is(cDaypart) || items[k+1].is(cWeekday))
	toldThen := k+1 < len(items) && (items[k+1].fold == "it was" || items[k+1].fold == "was" || items[k+1].fold == "it read")
	if !p.hasDay && !dayNext && !toldThen && !p.r.deedWithoutTemp() && !p.r.ofLastDeed(k) {
		return 0
	}
	p.hour, p.min, p.clock, p.clock12 = int(n.val), 0, true, true
	return 1
}

// ofLastDeed reports "that was at 8" where the sender's newest entry was not measured: the
// hour at k is all that "at" can stand before.
func (r *reader) ofLastDeed(k int) bool {
	if r.ctx.LastEntry == nil || !r.ownLast() || k+1 < len(r.items) && !r.items[k+1].breaks() && !r.items[k+1].is(cSay) {
		return false
	}
	if f := r.items[k-1].fold; f == "about" || f == "around" {
		return false // "that was about 8"
	}
	switch r.ctx.LastEntry.Quantity {
	case "addition", "topping", "event", "bottles", "bottles_out", "place", "note", "fault", "duration":
	default:
		return false
	}
	for j := range k - 1 {
		it := &r.items[j]
		if it.is(cSay) || it.fold == "was" || it.fold == "it was" {
			return true
		}
	}
	return false
}

// deedWithoutTemp reports a message with a deed and no gravity. With a
// gravity in the text a bare number is its temperature, so hours need more
// there.
func (r *reader) deedWithoutTemp() bool {
	deed := false
	for i := range r.items {
		it := &r.items[i]
		if it.kind == tNum && gravityShaped(it.num) {
			return false
		}
		deed = deed || it.is(cDeed)
	}
	return deed
}

// pastHour reads "half past seven", "quarter to 8", "ten past six", "half
// eight" and "halb acht". English leaves "past" out of half eight; in German
// and Dutch the same words are half past seven, and the hour's own word or the
// word for "at" tells which is spoken.
func (p *timeParser) pastHour(k int, joined bool) int {
	items := p.r.items
	it := &items[k]
	if p.clock {
		return 0
	}
	j, minute := k+1, 0
	switch {
	case it.is(cHalf) && it.fold != "halb":
		minute = 30
	case it.is(cQuarter):
		minute = map[string]int{"past": 15, "to": -15}[it.name(cQuarter)]
	case it.fold == "half" || it.fold == "halb":
		if !joined && !p.hasDay && it.fold == "half" && !p.dayBehind(k+2) {
			return 0
		}
		minute = 30
	case it.kind == tNum && it.num.whole() && it.num.val > 0 && it.num.val < 30 && k+2 < len(items):
		switch items[k+1].fold {
		case "past":
			minute, j = int(it.num.val), k+2
		case "to":
			if !joined && !p.hasDay && !p.dayBehind(k+3) {
				return 0
			}
			minute, j = -int(it.num.val), k+2
		default:
			return 0
		}
	default:
		return 0
	}
	if j >= len(items) {
		return 0
	}
	h, germanic := 0, it.fold == "halb"
	if items[j].kind == tNum && items[j].num.whole() {
		h = int(items[j].num.val)
		germanic = germanic || k > 0 && it.fold == "half" && (items[k-1].fold == "om" || items[k-1].fold == "kl")
	} else if w, ok := items[j].wordCount(); ok && !items[j].is(cArt) {
		h, germanic = int(w), true
	}
	if h < 1 || h > 12 || j+1 < len(items) && (items[j+1].is(cUnit) && items[j+1].name(cUnit) != "hour" || items[j+1].is(cNoun) || items[j+1].is(cMaterial)) {
		return 0
	}
	if it.is(cHalf) && it.fold != "halb" || it.fold != "half" && it.fold != "halb" {
		germanic = false
	}
	if germanic || minute < 0 {
		h = (h + 11) % 12
	}
	p.hour, p.min, p.clock, p.clock12 = h, (minute+60)%60, true, true
	n := j + 1 - k
	if k+n < len(items) && items[k+n].is(cAmPm) {
		p.half(items[k+n].name(cAmPm))
		p.clock12 = false
		n++
	}
	return n
}

// dayBehind reports a day or a part of one at item k: "half eight this morning".
func (p *timeParser) dayBehind(k int) bool {
	if k >= len(p.r.items) {
		return false
	}
	it := &p.r.items[k]
	return it.is(cNow) || it.is(cDay) || it.is(cDaypart) || it.is(cWeekday) || it.is(cPart) || it.is(cAmPm)
}
