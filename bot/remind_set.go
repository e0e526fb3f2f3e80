package bot

import (
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// reminderSetting changes when and of what the household is reminded.
func (t *turn) reminderSetting(in parse.Intent) (bool, error) {
	off, _ := in.Args["off"].(bool)
	house := func(lines []string, e ferment.Entry) (bool, error) {
		if _, err := t.set(0, e); err != nil {
			return true, err
		}
		return true, t.reply(reply{Lines: lines, Buttons: t.undoButton()})
	}
	flag := func(name string, on bool, lines []string) (bool, error) {
		return house(lines, ferment.Entry{Key: ferment.SetFlag, Material: name, Text: onOff(on)})
	}
	switch in.Topic {
	case parse.TopicReminders:
		return true, t.reply(reply{Lines: t.bk.style.Reminders(t.bk.house, t.switchedOff(), t.holidayWords()), Whole: true})
	case parse.TopicSetBundle:
		at := text(in.Args, "at")
		return house(say.Set("The day's message", at), ferment.Entry{Key: ferment.SetBundle, Text: at})
	case parse.TopicSetRoundUp:
		return flag("no round-up", off, say.Set("Weekly round-up", onOff(!off)))
	case parse.TopicSetUrgent:
		return flag("urgent at night", !off, say.Set("Urgent ones in quiet hours", map[bool]string{true: "wait", false: "come"}[off]))
	case parse.TopicSetMinors:
		return flag("minors", !off, say.Set("Minors read along", map[bool]string{true: "no", false: "yes"}[off]))
	case parse.TopicSetStir:
		hours, _ := in.Args["hours"].([]string)
		at := strings.Join(hours, ",")
		return house(say.Set("Stirring", strings.ReplaceAll(at, ",", " and ")), ferment.Entry{Key: ferment.SetStirAt, Text: at})
	case parse.TopicHeat:
		return house(say.HeatSet(!off), ferment.Entry{Key: ferment.SetHeat, Text: onOff(!off)})
	case parse.TopicTub:
		e := ferment.Entry{Key: ferment.SetTub, Material: text(in.Args, "material"), At: t.in.At}
		if at, ok := in.Args["at"].(time.Time); ok {
			e.At = at
		}
		return house(t.bk.style.TubOpened(e.Material, e.At), e)
	case parse.TopicAway:
		return true, t.away(in)
	case parse.TopicMinder:
		return true, t.minder(in)
	case parse.TopicMute:
		return true, t.mute(in)
	case parse.TopicUnmute:
		return true, t.unmute(in)
	case parse.TopicSnooze:
		return true, t.snooze(in)
	case parse.TopicSetInterval:
		return true, t.interval(in)
	case parse.TopicSetSteps:
		return true, t.steps(in)
	case parse.TopicSetFlag:
		return true, t.flag(in)
	}
	return false, nil
}

// flag keeps what is said once, of a batch or of the house: tools that are not
// there and rooms are the house's.
func (t *turn) flag(in parse.Intent) error {
	name, n := text(in.Args, "flag"), namedBatch(in)
	switch name {
	case "no hydrometer", "no meter", "no so2 kit", "no labels", "airy", "outdoors":
	default:
		s, err := t.meant(in)
		if err != nil {
			return err
		}
		if s == nil {
			return t.reply(reply{Lines: say.WhichBatch()})
		}
		n = s.N
	}
	if _, err := t.set(n, ferment.Entry{Key: ferment.SetFlag, Material: name, Text: "on"}); err != nil {
		return err
	}
	return t.reply(reply{Lines: say.FlagSet(t.nameOf(n), name, ""), Batch: n, Buttons: t.undoButton()})
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

// namedBatch is the batch that a setting names; 0 where it names none: the house.
func namedBatch(in parse.Intent) int {
	if yes, _ := in.Args["named"].(bool); yes {
		return in.Batch
	}
	return 0
}

// mute switches off one sort of reminder, all of a batch or of the house, or what
// spoke last.
func (t *turn) mute(in parse.Intent) error {
	rule, n := text(in.Args, "rule"), namedBatch(in)
	if all, _ := in.Args["all"].(bool); rule == "" && (all || n != 0) {
		if _, err := t.set(n, ferment.Entry{Key: ferment.SetFlag, Material: "paused", Text: "on"}); err != nil {
			return err
		}
		lines := say.Paused(t.batchName(n))
		if until, ok := in.Args["until"].(time.Time); ok {
			y, m, d := until.Date()
			at := time.Date(y, m, d, dayAlone, 0, 0, 0, t.bk.zone)
			e := ferment.Entry{Key: ferment.SetRemind, Text: say.PauseOver(t.batchName(n)), At: at}
			if _, err := t.set(0, e); err != nil { // the house's: the batch's own rest
				return err
			}
			lines[len(lines)-1] = "On again: unmute. I ask on " + t.bk.style.Date(at)
		}
		return t.reply(reply{Lines: lines, Batch: n, Whole: true, Buttons: t.undoButton()})
	}
	if rule == "" {
		last, err := t.newestSaid()
		if err != nil {
			return err
		}
		if unknown, _ := in.Args["unknown"].(bool); unknown || len(last) == 0 {
			return t.reply(reply{Lines: []string{"Mute what? Like: mute labels", "mute damson · mute all"}})
		}
		if len(last) > 1 {
			return t.askMute(last)
		}
		rule, n = last[0].Rule, batchOfSaid(last[0])
	}
	return t.switchOff(rule, n)
}

// askMute asks which of several reminders is to be off.
func (t *turn) askMute(rows []store.SaidRow) error {
	r := reply{Lines: []string{"Which shall I stop?"}}
	for _, x := range rows {
		if rule, ok := schedule.RuleOf(x.Rule); ok && rule.Mutable() && len(r.Buttons) < 4 {
			r.Buttons = append(r.Buttons, choice{say.ReminderName(x.Rule), action{Do: doMute, Batch: batchOfSaid(x), Key: x.Rule}})
		}
	}
	return t.reply(r)
}

// switchOff writes that a reminder is off for a batch, or with 0 for the house.
func (t *turn) switchOff(rule string, n int) error {
	if r, ok := schedule.RuleOf(rule); !ok || !r.Mutable() {
		return t.reply(reply{Lines: say.NeverMuted()})
	}
	e := ferment.Entry{Key: ferment.SetMute, Material: rule, Text: "on"}
	if rule == schedule.WeeklyID {
		e, n = ferment.Entry{Key: ferment.SetFlag, Material: "no round-up", Text: "on"}, 0
	}
	if houseWide(rule) {
		n = 0
	}
	if _, err := t.set(n, e); err != nil {
		return err
	}
	return t.reply(reply{Lines: say.Muted(rule, t.batchName(n)), Batch: n, Buttons: t.undoButton()})
}

// houseWide tells the reminders that speak of no single batch.
func houseWide(rule string) bool {
	switch rule {
	case "R13", "R28", "R42", "R43", "R46", "R47", "R48", schedule.WeeklyID:
		return true
	}
	return false
}

func (t *turn) batchName(n int) string {
	if s := t.bk.batch(n); s != nil {
		return s.Name
	}
	return ""
}

// unmute switches on again: one sort, or all of a batch or of the house. Where
// reminders rest, a bare word only ends that: what was switched off one by one stays.
func (t *turn) unmute(in parse.Intent) error {
	rule, n := text(in.Args, "rule"), namedBatch(in)
	all, _ := in.Args["all"].(bool)
	paused := t.bk.house.Flags["paused"]
	for _, s := range t.bk.open() {
		paused = paused || s.Plan.Flags["paused"] && (n == 0 || s.N == n)
	}
	var es []ferment.Entry
	lift := func(batch int, muted map[string]bool, rests bool) {
		if rests && rule == "" {
			es = append(es, ferment.Entry{Batch: batch, Key: ferment.SetFlag, Material: "paused", Text: "off"})
		}
		if paused && rule == "" && !all {
			return
		}
		for _, r := range schedule.Rules() {
			if muted[r.ID] && (rule == "" || r.ID == rule) {
				es = append(es, ferment.Entry{Batch: batch, Key: ferment.SetMute, Material: r.ID, Text: "off"})
			}
		}
	}
	if n == 0 {
		lift(0, t.bk.house.Muted, t.bk.house.Flags["paused"])
		if t.bk.house.Flags["no round-up"] && (rule == schedule.WeeklyID || all) {
			es = append(es, ferment.Entry{Key: ferment.SetFlag, Material: "no round-up", Text: "off"})
		}
	}
	for _, s := range t.bk.open() {
		if n == 0 || s.N == n {
			lift(s.N, s.Plan.Muted, s.Plan.Flags["paused"])
		}
	}
	for _, e := range es {
		if _, err := t.set(e.Batch, e); err != nil {
			return err
		}
	}
	r := reply{Lines: say.Unmuted(rule, t.batchName(n)), Batch: n}
	if len(es) > 0 {
		r.Buttons = t.undoButton()
	}
	return t.reply(r)
}

// interval sets how long a reminder waits, for a batch or the house.
func (t *turn) interval(in parse.Intent) error {
	rule, n := text(in.Args, "rule"), namedBatch(in)
	hours, _ := number(in.Args, "hours")
	d := time.Duration(hours * float64(time.Hour)).Round(time.Minute)
	r, ok := schedule.RuleOf(rule)
	if !ok || !r.Settable(d) {
		return t.reply(reply{Lines: t.bk.style.OutOfRange(rule, r.Min, r.Max)})
	}
	if all, _ := in.Args["house"].(bool); all || houseWide(rule) {
		n = 0
	}
	if _, err := t.set(n, ferment.Entry{Key: ferment.SetInterval, Material: rule, Value: d.Hours(), Has: true, Text: "house"}); err != nil {
		return err
	}
	return t.reply(reply{Lines: t.bk.style.Interval(rule, t.batchName(n), d), Batch: n, Buttons: t.undoButton()})
}

// steps keeps the steps of a recipe. Where no times are given they go in day by day,
// sugar and honey every other day (common practice, no source).
func (t *turn) steps(in parse.Intent) error {
	s, err := t.meant(in)
	if err != nil {
		return err
	}
	if s == nil {
		return t.reply(reply{Lines: say.WhichBatch()})
	}
	material, rule, gap := text(in.Args, "material"), "R08b", 48.0
	if material == "nutrient" {
		rule, gap = "R08a", 24
	}
	if off, _ := in.Args["off"].(bool); off {
		if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetStep, Material: rule}); err != nil {
			return err
		}
		if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetMute, Material: rule, Text: "on"}); err != nil {
			return err
		}
		return t.reply(reply{Lines: say.StepsOff(s.Name, material), Batch: s.N, Buttons: t.undoButton()})
	}
	if rule == "R08a" && s.Kind == ferment.Kit {
		return t.reply(reply{Lines: say.KitHasNutrient(s.Name), Batch: s.N})
	}
	hours, _ := in.Args["hours"].([]float64)
	if count, ok := number(in.Args, "count"); ok && hours == nil {
		for i := range int(count) {
			hours = append(hours, gap*float64(i+1))
		}
	}
	amount := text(in.Args, "amount")
	for _, h := range hours {
		if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetStep, Material: rule, Value: h, Has: true, Text: amount}); err != nil {
			return err
		}
	}
	if s.Plan.Muted[rule] {
		if _, err := t.set(s.N, ferment.Entry{Key: ferment.SetMute, Material: rule, Text: "off"}); err != nil {
			return err
		}
	}
	return t.reply(reply{Lines: t.bk.style.StepsSet(s.Name, material, amount, hours), Batch: s.N, Whole: true, Buttons: t.undoButton()})
}

// switchedOff names what the household does not want to hear of.
func (t *turn) switchedOff() (names []string) {
	for _, r := range schedule.Rules() {
		off := t.bk.house.Muted[r.ID]
		for _, s := range t.bk.open() {
			off = off || s.Plan.Muted[r.ID]
		}
		if off {
			names = append(names, say.ReminderName(r.ID))
		}
	}
	return names
}

// holidayWords tells the holiday that is on or to come; empty: none.
func (t *turn) holidayWords() string {
	a := t.holiday()
	if a == nil {
		return ""
	}
	return t.bk.style.AwayShort(a.From, a.To.Add(-time.Second), a.Minder)
}
