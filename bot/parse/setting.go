package parse

import (
	"strings"
	"time"
)

// setting reads what changes how the house is served: units, hydrometer,
// plan. Settings are told in the imperative and are short; the number and
// its unit say which is meant. A hydrometer with a temperature is its
// calibration, with a gravity it is a reading.
func (r *reader) setting() (Intent, bool) {
	f := strings.TrimRight(strings.TrimSpace(r.afterName()), ".! ")
	set := func(topic string, kv ...any) (Intent, bool) {
		args := map[string]any{}
		for i := 0; i+1 < len(kv); i += 2 {
			args[kv[i].(string)] = kv[i+1]
		}
		if topic == TopicSetRack || topic == TopicSetCheckDay {
			args["sheet"] = hasAny(r.folded, "kit|sheet")
		}
		return Intent{Kind: Question, Topic: topic, Args: args, Batch: r.meantBatch()}, true
	}
	if in, ok := r.instrumentSetting(); ok {
		return in, true
	}
	n, unit, has := r.firstNumber()
	starts := wordStarts(f)
	switch {
	case len(r.items) <= 8 && !has && unitsNamed.in(f, starts) &&
		(unitsSet.begin(f) > 0 || hasAny(f, "from now on|please use")) && r.namedBatch() == 0 && !hasAny(f, "added|racked|put|jar|vessel"):
		if u := unitSystem(f); u != "" {
			return set(TopicSetUnits, "units", u)
		}
	case decimalSet.begin(f) > 0 && !has:
		mark := "point"
		if hasAny(f, "comma") {
			mark = "comma"
		}
		return set(TopicSetDecimal, "mark", mark)
	case r.zoneSet() != "":
		return set(TopicSetZone, "zone", r.zoneSet())
	case r.livesIn() != "":
		return set(TopicSetZone, "zone", r.livesIn())
	case has && gravityShaped(n) && rackNamed.in(f, starts) && hasAny(f, "kit|sheet|set|point|says|always") && r.weigh().others == 0:
		return set(TopicSetRack, "sg", gravityValue(n))
	case rackSet.begin(f) > 0 && has && gravityShaped(n) && len(r.items) <= 5:
		return set(TopicSetRack, "sg", gravityValue(n))
	case checkDaySet.begin(f) > 0 && has && n.whole():
		return set(TopicSetCheckDay, "day", int(n.val))
	case sheetSays.in(f, starts) && has && gravityShaped(n):
		return r.sheetRange()
	case has && hushWords.begin(f) > 0:
		return r.hush(f)
	case quietSet.begin(f) > 0 && (strings.ContainsAny(f, "0123456789") || hasAny(f, "off|hours|none|never|always|on")):
		return r.quietHours(f)
	case languageSet.begin(f) > 0 && len(r.items) == 2:
		return set(TopicSetLanguage, "language", r.items[1].fold)
	case bottleSet.begin(f) > 0 && has && isVolumeUnit(unit):
		return set(TopicSetBottle, "value", n.val, "unit", r.houseUnit(n, unit))
	case limitSet.begin(f) > 0 && has:
		return set(TopicSetYear, "value", n.val, "unit", r.houseUnit(n, unit))
	case (gallonSet.begin(f) > 0 || gallonNamed.in(f, starts) && gallonMeant.begin(f) > 0 && len(r.items) <= 9 && r.namedBatch() == 0) && !has:
		if hasAny(f, "us|american") {
			return set(TopicSetGallon, "gallon", "US gal")
		}
		if hasAny(f, "imp|imperial|uk|british") {
			return set(TopicSetGallon, "gallon", "imp gal")
		}
	}
	return Intent{}, false
}

// houseUnit names a unit as it is stored: a gallon is the house's own.
func (r *reader) houseUnit(n number, unit string) string {
	var e Entry
	r.fill(&e, &claim{}, &value{v: n.val, n: n, unit: unit})
	return e.Unit
}

// unitSystem is metric, us or uk, by any of their names.
func unitSystem(f string) string {
	switch {
	case hasAny(f, "metric|litres|liters|si|celsius|centigrade"):
		return "metric"
	case hasAny(f, "us|american|usa|fahrenheit"):
		return "us"
	case hasAny(f, "uk|imperial|british"):
		return "uk"
	}
	return ""
}

// firstNumber is the first number of the text with the unit behind it.
func (r *reader) firstNumber() (number, string, bool) {
	for i := range r.items {
		if r.items[i].kind == tNum {
			u := ""
			if i+1 < len(r.items) {
				u = r.items[i+1].name(cUnit)
			}
			return r.items[i].num, u, true
		}
	}
	return number{}, "", false
}

// sheetRange reads "sheet says 1.080 to 1.090". A range with a dash is one
// code to the scanner and is taken apart here.
func (r *reader) sheetRange() (Intent, bool) {
	var gs []float64
	for i := range r.items {
		if gravityItem(&r.items[i]) {
			gs = append(gs, gravityValue(r.items[i].num))
		}
		if r.items[i].kind == tCode { // "1.080-1.090"
			a, b, ok := strings.Cut(r.items[i].text, "-")
			x, ok1 := parseNumber(a)
			y, ok2 := parseNumber(b)
			if ok && ok1 && ok2 {
				gs = append(gs, gravityValue(x), gravityValue(y))
			}
		}
	}
	if len(gs) != 2 {
		return Intent{}, false
	}
	return Intent{Kind: Question, Topic: TopicSetRange, Args: map[string]any{"low": min(gs[0], gs[1]), "high": max(gs[0], gs[1])}, Batch: r.meantBatch()}, true
}

// quietHours reads "quiet hours 22-7", "quiet hours 21:30 to 7:30", "quiet
// hours off". Whole hours and minutes, with point or colon. Midnight lies
// between in most houses, so the first may be the later one.
func (r *reader) quietHours(f string) (Intent, bool) {
	if hasAny(f, "off|none|no") {
		return Intent{Kind: Question, Topic: TopicSetQuiet, Args: map[string]any{"off": true}}, true
	}
	var hours []string
	start := -1
	for i := 0; i <= len(f); i++ {
		digit := i < len(f) && (isDigit(f[i]) || f[i] == ':' || f[i] == '.')
		if digit && start < 0 {
			start = i
		} else if !digit && start >= 0 {
			hours = append(hours, strings.ReplaceAll(f[start:i], ".", ":"))
			start = -1
		}
	}
	if len(hours) == 1 && hasAny(f, "till|until|til|after|before|from|past|by") {
		return r.hush(f)
	}
	if len(hours) != 2 {
		return Intent{}, false
	}
	for i, h := range hours {
		if !strings.Contains(h, ":") {
			h += ":00"
		}
		t, err := time.Parse("15:04", h)
		if err != nil {
			return Intent{}, false
		}
		hours[i] = t.Format("15:04")
	}
	return Intent{Kind: Question, Topic: TopicSetQuiet, Args: map[string]any{"from": hours[0], "to": hours[1]}}, true
}

// remindArgs takes the time and the text of a reminder. A weekday and
// "tomorrow" lie ahead here; a day alone has no hour. A weekday is the
// next one, today's name meaning in a week. Without an hour the day alone
// is handed on; the reminders have their own hour for that.
func (r *reader) remindArgs(q *question) {
	now := r.ctx.Now
	day, has := now, false
	from := len(r.items)
	hour, minute, clock := 0, 0, false
	for k := range r.items {
		it := &r.items[k]
		p := timeParser{r: r, now: now}
		switch {
		case it.is(cWeekday):
			p.weekday(it, false)
			day, has = p.day.AddDate(0, 0, 7), true
			if p.day.Equal(midnight(now)) {
				day = p.day.AddDate(0, 0, 7)
			}
		case it.is(cFuture) && strings.HasPrefix(it.fold, "tomorrow"):
			day, has = midnight(now).AddDate(0, 0, 1), true
		case it.fold == "today" || it.fold == "tonight":
			day, has = midnight(now), true
		case it.fold == "in" && k+2 < len(r.items) && r.items[k+1].kind == tNum && r.items[k+2].is(cUnit):
			day, has, clock, hour, minute = r.ahead(k, q)
		case it.kind == tNum && p.clockAt(k, k > 0) > 0:
			hour, minute, clock = p.hour, p.min, true
		case it.kind == tNum && k > 0 && r.items[k-1].fold == "at" && it.num.whole() && it.num.val < 24:
			hour, minute, clock = int(it.num.val), 0, true
		}
		if it.fold == "to" && from == len(r.items) && k+1 < len(r.items) {
			from = k + 1
		} else if strings.HasPrefix(it.fold, "to ") && from == len(r.items) {
			from = k
		}
	}
	if !has && r.namesDate() {
		if days := r.daysAhead(); len(days) > 0 {
			day, has = days[0], true
		}
	}
	if has || clock {
		y, m, d := day.Date()
		at := time.Date(y, m, d, hour, minute, 0, 0, now.Location())
		if clock && !has && !at.After(now) {
			at = at.AddDate(0, 0, 1)
		}
		q.args["at"], q.args["day"] = at, !clock
	}
	if from < len(r.items) {
		q.args["text"] = strings.TrimPrefix(strings.TrimSpace(r.text[r.items[from].start:]), "to ")
		for k := from; k < len(r.items) && q.args["deed"] == nil; k++ {
			if d := deedMeant(&r.items[k]); d != "" {
				q.args["deed"] = d
			}
		}
	}
}

// ahead reads "in 3 days", "in 2 hours". Hours and minutes fix the clock
// too.
func (r *reader) ahead(k int, q *question) (time.Time, bool, bool, int, int) {
	n := int(r.items[k+1].num.val)
	now := r.ctx.Now
	switch r.items[k+2].name(cUnit) {
	case "min":
		now = now.Add(time.Duration(n) * time.Minute)
	case "hour":
		now = now.Add(time.Duration(n) * time.Hour)
	case "week":
		return now.AddDate(0, 0, 7*n), true, false, 0, 0
	default:
		return now.AddDate(0, 0, n), true, false, 0, 0
	}
	return now, true, true, now.Hour(), now.Minute()
}
