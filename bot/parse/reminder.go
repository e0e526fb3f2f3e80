package parse

import (
	"strings"
	"time"
)

// reminderSetting reads what changes when and of what the household is
// reminded. Like other settings these are short and begin with their word,
// or with the name of a reminder ("labels after 10 days").
func (r *reader) reminderSetting() (Intent, bool) {
	f := r.setText()
	words, starts := countWords(f), wordStarts(f)
	is := func(topic string, kv ...any) (Intent, bool) {
		args := map[string]any{}
		for i := 0; i+1 < len(kv); i += 2 {
			args[kv[i].(string)] = kv[i+1]
		}
		return Intent{Kind: Question, Topic: topic, Args: args, Batch: r.meantBatch()}, true
	}
	off := func() bool { return offNamed.in(f, starts) }
	switch {
	case words > 16:
		return Intent{}, false
	case f == "reminders" || f == "reminder settings" || f == "show reminders" || f == "my reminders":
		return is(TopicReminders)
	case bundleSet.begin(f) > 0:
		if h := clockTimes(f); len(h) == 1 {
			return is(TopicSetBundle, "at", h[0])
		}
	case roundUpNamed.in(f, starts) && words <= 5:
		return is(TopicSetRoundUp, "off", off())
	case urgentNamed.in(f, starts) && hasAny(f, "night|quiet|wake") && words <= 9:
		return is(TopicSetUrgent, "off", off())
	case stirSet.begin(f) > 0:
		if h := clockTimes(f); len(h) > 0 && len(h) <= 4 {
			return is(TopicSetStir, "hours", h)
		}
	case minorsNamed.in(f, starts) && hasAny(f, "chat|group|read along") && words <= 7:
		return is(TopicSetMinors, "off", off())
	case heatSet.begin(f) > 0 && words <= 6:
		return is(TopicHeat, "off", off() || hasAny(f, "over|gone|ended"))
	case stepsNamed.in(f, starts) && stepsSet.begin(f) > 0 && !hasAny(f, "?"):
		return r.recipeSteps(f)
	case awaySet.begin(f) > 0:
		return Intent{}, false // a command of its own
	case stopSet.begin(f) > 0 && hasAny(f, "reminders|reminding") && words <= 5 && !hasAny(f, "no reminders|no more reminders|stop reminders|stop the reminders"):
		q := question{topic: TopicMute, args: map[string]any{}}
		r.muteArgs(&q)
		return Intent{Kind: Question, Topic: TopicMute, Args: q.args, Batch: r.meantBatch()}, true
	case r.minds() != "" && words <= 6:
		return is(TopicMinder, "text", r.minds(), "named", r.namedBatch() > 0)
	}
	if flag := flagNamed(r.withoutName(f)); flag != "" {
		return is(TopicSetFlag, "flag", flag, "named", r.namedBatch() > 0)
	}
	if openedNamed.in(f, starts) {
		if in, ok := r.opened(f); ok {
			return in, true
		}
	}
	return r.interval(f)
}

// setText is the message as settings are told: folded, without its end.
func (r *reader) setText() string {
	return strings.TrimRight(strings.TrimSpace(r.folded), ".! ")
}

// clockTimes are the times of day in a text, as "07:30": hours with or
// without minutes, with point or colon, "6pm" too.
func clockTimes(f string) []string {
	var out []string
	for i := 0; i < len(f); i++ {
		if !isDigit(f[i]) || i > 0 && (letter(f[i-1]) || isDigit(f[i-1])) {
			continue
		}
		end := i
		for end < len(f) && (isDigit(f[end]) || (f[end] == ':' || f[end] == '.') && end+1 < len(f) && isDigit(f[end+1])) {
			end++
		}
		h := strings.ReplaceAll(f[i:end], ".", ":")
		if !strings.Contains(h, ":") {
			h += ":00"
		}
		t, err := time.Parse("15:04", h)
		if err != nil {
			return nil
		}
		rest := strings.TrimLeft(f[end:], " ")
		if pmWord.begin(rest) > 0 && t.Hour() < 12 {
			t = t.Add(12 * time.Hour)
		}
		out = append(out, t.Format("15:04"))
		i = end
	}
	return out
}

// recipeSteps reads "sugar in 3 steps of 500 g", "nutrient steps at 24, 48,
// 72 h", "sugar steps on day 3, 6, 9", "no nutrient steps". A number before
// the word "steps" counts them; one with a weight is the amount of each;
// the others are their times.
func (r *reader) recipeSteps(f string) (Intent, bool) {
	args := map[string]any{"material": "sugar"}
	switch {
	case hasAny(f, "nutrient"):
		args["material"] = "nutrient"
	case hasAny(f, "honey"):
		args["material"] = "honey"
	}
	in := Intent{Kind: Question, Topic: TopicSetSteps, Args: args, Batch: r.meantBatch()}
	if hasAny(f, "no|off|without") {
		args["off"] = true
		return in, true
	}
	per := 24.0
	if hasAny(f, "h|hr|hrs|hour|hours") {
		per = 1
	}
	var at []float64
	for i := range r.items {
		n := r.items[i].num
		if r.items[i].kind != tNum || n.val <= 0 {
			continue
		}
		unit, next := "", ""
		if i+1 < len(r.items) {
			unit, next = r.items[i+1].name(cUnit), r.items[i+1].fold
		}
		switch {
		case unit == "g" || unit == "kg" || unit == "oz" || unit == "lb" || unit == "tsp" || unit == "tbsp":
			args["amount"] = n.typed + " " + next
		case hasAny(next, "step|stage|portion") && n.whole() && n.val <= 12:
			args["count"] = n.val
		default:
			at = append(at, n.val*per)
		}
	}
	if at != nil {
		args["hours"] = at
	}
	return in, args["count"] != nil || at != nil
}

// opened reads "opened a new tub of sulphite", "sorbate opened 3 may": a
// packet opened, not a bottle.
func (r *reader) opened(f string) (Intent, bool) {
	if hasAny(f, "bottle") || len(r.items) > 12 {
		return Intent{}, false
	}
	if !hasAny(f, "tub|packet|pack|bag|jar|new|opened") {
		return Intent{}, false
	}
	for i := range r.items {
		if m := r.items[i].name(cMaterial); m == "sulphite" || m == "sorbate" {
			args := map[string]any{"material": m}
			for _, t := range r.times {
				if !t.when.Now() && !t.future {
					args["at"], args["day"] = t.when.At, t.when.Day
				}
			}
			return Intent{Kind: Question, Topic: TopicTub, Args: args}, true
		}
	}
	return Intent{}, false
}

// minds is who is said to mind something: "jo minds it", "tom will look
// after the damson"; "nobody" for nobody.
func (r *reader) minds() string {
	f := r.setText()
	if !strings.Contains(f, "mind") && !strings.Contains(f, "look") { // as in nearly all
		return ""
	}
	ws := strings.FieldsFunc(f, func(c rune) bool { return c == ' ' || c == ',' || c == '.' || c == '\n' })
	for i := 1; i < len(ws); i++ {
		after := i+1 < len(ws) && ws[i+1] == "after"
		if w := ws[i]; w != "minds" && w != "mind" && !(after && (w == "looks" || w == "look")) {
			continue
		}
		j := i - 1
		for j > 0 && (ws[j] == "will" || ws[j] == "can" || ws[j] == "to") {
			j--
		}
		for k := range r.items {
			if it := &r.items[k]; it.fold == ws[j] && it.kind == tWord && !it.is(cQ) && !it.is(cPron) && it.batch == 0 {
				return r.member(it.text)
			}
		}
	}
	return ""
}

// member writes a name as the household has it.
func (r *reader) member(name string) string {
	for _, m := range r.ctx.Members {
		if fold(m) == fold(name) {
			return m
		}
	}
	return name
}

// withoutName drops the batch's name from the head of a setting.
func (r *reader) withoutName(f string) string {
	if r.items[0].batch == 0 || len(r.items) < 2 {
		return f
	}
	return strings.TrimRight(strings.TrimSpace(fold(r.text[r.items[1].start:])), ".! ")
}

// interval reads "labels after 10 days", "stir every 8 h", "airlocks every 3
// weeks for all".
func (r *reader) interval(f string) (Intent, bool) {
	f = r.withoutName(f)
	rule, n := reminderNamed(f)
	if n == 0 || len(r.items) > 14 {
		return Intent{}, false
	}
	rest := strings.TrimSpace(f[n:])
	if everyWords.begin(rest) == 0 {
		return Intent{}, false
	}
	for i := 0; i+1 < len(r.items); i++ {
		per := map[string]float64{"min": 1. / 60, "hour": 1, "day": 24, "week": 7 * 24, "month": 30 * 24}[r.items[i+1].name(cUnit)]
		if r.items[i].kind == tNum && per > 0 {
			return Intent{Kind: Question, Topic: TopicSetInterval, Batch: r.meantBatch(), Args: map[string]any{"rule": rule, "hours": r.items[i].num.val * per,
				"house": hasAny(f, "for all|always|house|every batch|all batches"), "named": r.namedBatch() > 0}}, true
		}
	}
	return Intent{}, false
}

// muteArgs says which reminders are meant: by their name, else all of a batch
// or of the house, else the newest.
func (r *reader) muteArgs(q *question) {
	f := r.setText()
	best := 0
	for i := range f {
		if i > 0 && letter(f[i-1]) {
			continue
		}
		if rule, n := reminderNamed(f[i:]); n > best {
			best, q.args["rule"] = n, rule
		}
	}
	q.args["named"] = r.namedBatch() > 0
	if days := r.daysAhead(); len(days) == 1 && r.pauses() {
		q.args["until"] = days[0]
	}
	if until := q.args["until"]; until != nil && q.args["rule"] == nil && q.args["named"] == false { // all of them rest for a time, as on a holiday
		q.topic, q.args = TopicAway, map[string]any{"from": midnight(r.ctx.Now), "to": until, "pause": true}
		return
	}
	if q.args["rule"] == nil {
		q.args["all"] = hasAny(f, "all|everything|reminders|reminding|nagging")
		q.args["unknown"] = q.args["all"] == false && r.namedBatch() == 0 && !hasAny(f, "these|this|that") && len(strings.Fields(f)) > 1
	}
}

// snoozeArgs says until when: "snooze 6 h", "snooze until saturday".
func (r *reader) snoozeArgs(q *question) {
	for i := 0; i+1 < len(r.items); i++ {
		if r.items[i].kind == tNum && r.items[i+1].is(cUnit) {
			switch r.items[i+1].name(cUnit) {
			case "min", "hour":
				d := time.Duration(r.items[i].num.val * float64(time.Hour))
				if r.items[i+1].name(cUnit) == "min" {
					d /= 60
				}
				q.args["at"], q.args["day"] = r.ctx.Now.Add(d), false
				return
			case "day", "week":
				n := int(r.items[i].num.val)
				if r.items[i+1].name(cUnit) == "week" {
					n *= 7
				}
				q.args["at"], q.args["day"] = midnight(r.ctx.Now).AddDate(0, 0, n), true
				return
			}
		}
	}
	if days := r.daysAhead(); len(days) > 0 {
		q.args["at"], q.args["day"] = days[0], true
		return
	}
	delete(q.args, "text")
	r.remindArgs(q)
}

// planned adds to a plan that is kept as a note what a reminder of it would
// need: the deed and the time.
func (r *reader) planned(in Intent) Intent {
	if in.Kind != Event {
		return in
	}
	q := question{args: map[string]any{}}
	r.remindArgs(&q)
	if q.args["at"] == nil {
		return in
	}
	for i := range r.items {
		if d := deedMeant(&r.items[i]); d != "" {
			in.Args = map[string]any{"at": q.args["at"], "day": q.args["day"], "deed": d, "text": r.planText(i)}
			return in
		}
	}
	return in
}

// deedMeant is the deed that a word of a plan speaks of.
func deedMeant(it *item) string {
	switch {
	case it.name(cAct) != "" && it.name(cAct) != "read":
		return it.name(cAct)
	case it.fold == "bottle":
		return "bottled"
	}
	return it.name(cDeed)
}

// planText is what is planned, from its verb on and without its time: "rack",
// "bottle the damson".
func (r *reader) planText(verb int) string {
	end := len(r.text)
	for _, t := range r.times {
		if t.from > verb {
			end = min(end, r.items[t.from].start)
		}
	}
	for k := verb + 1; k < len(r.items); k++ {
		if it := &r.items[k]; (it.is(cWeekday) || it.is(cFuture) || it.fold == "today" || it.breaks()) && it.start < end {
			end = it.start
		}
	}
	words := strings.Fields(r.text[r.items[verb].start:end])
	for len(words) > 1 {
		last := fold(words[len(words)-1])
		if last != "on" && last != "at" && last != "by" && last != "next" {
			break
		}
		words = words[:len(words)-1]
	}
	return strings.TrimPrefix(strings.Join(words, " "), "to ")
}
