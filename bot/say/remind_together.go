package say

import (
	"fmt"
	"maps"
	"strings"
	"unicode"
	"unicode/utf8"
)

// SameReminder reports that a reminder says the same of two batches, but for their names.
func (s Style) SameReminder(rule string, a, b map[string]string) bool {
	return Text(s.ReminderOf(rule, a, []string{"x"}, true)) == Text(s.ReminderOf(rule, b, []string{"x"}, true))
}

// ReminderOf renders a reminder of one or several batches. Where it is not the first of
// its message the names have been said.
func (s Style) ReminderOf(rule string, args map[string]string, names []string, first bool) []string {
	who := Both(names)
	with := map[string]string{}
	maps.Copy(with, args)
	with["batches"], with["batch"] = who, who
	if len(names) > 1 {
		with["several"] = "yes"
	}
	lines, _ := s.Reminder(rule, with)
	if first || len(lines) == 0 {
		return lines
	}
	rest := strings.TrimPrefix(lines[0], who+": ")
	r, n := utf8.DecodeRuneInString(rest)
	lines[0] = string(unicode.ToUpper(r)) + rest[n:]
	return lines
}

// ShortOf is a line of the day's message for several batches; false where it says
// something else of each, or grows too long.
func (s Style) ShortOf(rule string, a, b map[string]string, names []string) (string, bool) {
	of := func(args map[string]string) string {
		with := map[string]string{}
		maps.Copy(with, args)
		with["batches"], with["batch"] = Both(names), Both(names)
		return s.ReminderShort(rule, with)
	}
	l := of(a)
	return l, l == of(b) && utf8.RuneCountInString(l) <= Width
}

// ShortName is a batch's name where several share a line or a button.
func ShortName(name string) string { return cut(Title(name), 14) }

// ByNumber names a batch by its number.
func ByNumber(n int) string { return fmt.Sprintf("no %d", n) }

// Both joins names as a sentence has them: "damson and plum".
func Both(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// ForAll is a button's label where it answers for several batches: "Both: done".
func ForAll(label string, n int) string {
	if n == 2 {
		return About("both", label)
	}
	return About("all", label)
}

// ForOne is a button's label where it answers for one of several: "damson: done".
func ForOne(label, name string) string { return name + ": " + lowerFirst(label) }

// About is a button's label with what it is about: "Stirring: done".
func About(what, label string) string {
	r, n := utf8.DecodeRuneInString(what)
	return string(unicode.ToUpper(r)) + what[n:] + ": " + lowerFirst(label)
}

// Each answers what is the same of several batches: "damson and plum: not yet".
func Each(who, what string) []string { return Wrap(who + ": " + lowerFirst(what)) }

// MutedEach answers that a reminder is off for several batches.
func MutedEach(rule, who string) []string {
	return Wrap(who + ": no reminders of " + ReminderName(rule))
}

// TypeNamed says how to type what a button asked for, where several batches wait for it.
func (s Style) TypeNamed(what, name string) []string {
	lines := s.TypeThis(what)
	lines[0] = strings.Replace(lines[0], ": ", ": "+name+" ", 1)
	return append(lines, "Each with its name, please")
}

// AndMore says how many lines were left out.
func AndMore(n int) string { return fmt.Sprintf("and %d more", n) }

// Speaks reports that words of the household's own name a batch.
func Speaks(what, batch string) bool {
	return batch != "" && strings.Contains(strings.ToLower(what), strings.ToLower(batch))
}
