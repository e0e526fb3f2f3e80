package say

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"mustbook/ferment/liquid"
)

// wording is one text of a reminder: it is taken where the argument it asks for
// is given and every value it names is known. The last of a rule names none but
// the batch.
type wording struct {
	when    string
	text    string
	buttons string // labels, parted by " · "
}

// ReminderLine is the most characters of a line of a reminder, as sent.
const ReminderLine = 200

// Reminder renders the text of a reminder and the labels of its buttons. args are
// in machine form: gravities as 1.0480, temperatures in °C, volumes in litres,
// times in RFC 3339; "was" is when it was due, where the bot was off then.
func (s Style) Reminder(rule string, args map[string]string) (lines, buttons []string) {
	for _, w := range reminders[rule] {
		if w.when != "" && args[w.when] == "" {
			continue
		}
		text, ok := s.fill(w.text, args)
		if !ok {
			continue
		}
		lines = wrap(text, ReminderLine)
		if was, ok := s.value("was", args); ok {
			lines = append(lines, "(was due "+was+")")
		}
		return lines, strings.Split(w.buttons, " · ")
	}
	return nil, nil
}

// ButtonOf finds the button of a reminder by what somebody typed, in any case of letters.
func ButtonOf(rule, typed string) (string, bool) {
	for _, w := range reminders[rule] {
		for _, l := range strings.Split(w.buttons, " · ") {
			if strings.EqualFold(l, typed) {
				return l, true
			}
		}
	}
	return "", false
}

// ReminderShort is what a reminder comes to in one line, for the day's message and
// for "what next". It has no buttons: the day's message has room for none.
func (s Style) ReminderShort(rule string, args map[string]string) string {
	text, ok := s.fill(shorts[rule], args)
	if !ok {
		text, _ = s.fill("{batch}", args)
	}
	if _, late := args["was"]; late {
		was, _ := s.value("was", args)
		text += " (was due " + was + ")"
	}
	return text
}

// fill puts the values into a text; false where one is not known.
func (s Style) fill(text string, args map[string]string) (string, bool) {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			return b.String(), true
		}
		name, after, _ := strings.Cut(rest, "}")
		v, ok := s.value(name, args)
		if !ok {
			return "", false
		}
		b.WriteString(v)
		text = after
	}
}

// value renders one value by its name. A name that is a figure is a temperature in
// °C of the text itself: {18-24} a range, {+5} a difference.
func (s Style) value(name string, args map[string]string) (string, bool) {
	if strings.HasPrefix(name, "+") {
		f, err := strconv.ParseFloat(name[1:], 64)
		return s.TempDiff(f), err == nil
	}
	if low, high, ok := twoFigures(name); ok {
		return s.tempRange(low, high), true
	}
	if name == "water" {
		return s.SG(1), true
	}
	v, ok := args[name]
	if !ok || v == "" {
		return "", false
	}
	switch name {
	case "day", "from", "to", "bottled", "was":
		return s.instant(name, v)
	case "batch":
		if all := args["batches"]; all != "" {
			return all, true // each is cut already
		}
		return cut(v, 14), true
	case "list", "what", "allergens", "amount":
		return cut(v, 60), true
	case "name":
		return cut(v, 20), true
	}
	return s.figure(name, v)
}

// figure renders a number by what its name says it is; what is no number is taken
// as it stands, cut to fit.
func (s Style) figure(name, v string) (string, bool) {
	f, err := strconv.ParseFloat(v, 64)
	if err != nil {
		return cut(v, 20), true
	}
	switch name {
	case "sg", "rack_sg":
		return s.SG(liquid.Gravity(f)), true
	case "temp":
		return s.Temp(f), true
	case "rise":
		return s.TempDiff(f), true
	case "v", "air", "made", "limit":
		return s.Volume(f), true
	case "months":
		return plural(int(f), "month"), true
	case "so2", "want":
		return s.Number(f, 0) + " mg/L", true
	case "ph":
		return s.Number(f, 2), true
	case "abv":
		return s.ABV(liquid.PercentVol(f)), true
	}
	return s.Number(f, 0), true
}

// instant renders a time by what its name says: a moment, a date, a near day.
func (s Style) instant(name, v string) (string, bool) {
	t, err := time.Parse(time.RFC3339, v)
	if err != nil {
		return "", false
	}
	switch name {
	case "was":
		return s.Moment(t), true
	case "bottled":
		return t.In(s.zone()).Format("2 Jan 2006"), true
	case "from", "to":
		return s.Date(t), true
	}
	return s.Day(t), true
}

// TempDiff renders a difference of temperatures given in °C in the house's unit.
func (s Style) TempDiff(c float64) string {
	if s.Units == "us" {
		return s.number(c*9/5, 0) + " °F"
	}
	return s.number(c, 1) + " °C"
}

// tempRange renders a range of temperatures with its unit once.
func (s Style) tempRange(low, high float64) string {
	top := s.Temp(high)
	if low == high {
		return top
	}
	bottom, _, _ := strings.Cut(s.Temp(low), " ")
	return bottom + "–" + top
}

// twoFigures reads a name that is a figure or a range of two.
func twoFigures(name string) (low, high float64, ok bool) {
	a, b, found := strings.Cut(name, "-")
	if !found {
		b = a
	}
	low, err1 := strconv.ParseFloat(a, 64)
	high, err2 := strconv.ParseFloat(b, 64)
	return low, high, err1 == nil && err2 == nil
}

// cut shortens a text of the household's own to n characters, on one line.
func cut(v string, n int) string {
	v = strings.Join(strings.Fields(v), " ")
	if utf8.RuneCountInString(v) <= n {
		return v
	}
	return string([]rune(v)[:n-1]) + "…"
}

// wrap parts a text into lines of at most n characters, after a sentence where it
// can be.
func wrap(text string, n int) []string {
	var out []string
	for utf8.RuneCountInString(text) > n {
		head := string([]rune(text)[:n])
		i := strings.LastIndex(head, ". ")
		if i < 0 {
			i = strings.LastIndex(head, " ") - 1
		}
		if i < 0 {
			i = len(head) - 1
		}
		out = append(out, strings.TrimSpace(text[:i+1]))
		text = strings.TrimSpace(text[i+1:])
	}
	return append(out, text)
}
