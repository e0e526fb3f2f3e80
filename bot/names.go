package bot

import (
	"sort"
	"strings"

	"mustbook/ferment"
)

// finingNames are finings by what they are made of, and the parts of a pair. Which it
// was decides what guests must be told, and what goes in next.
var finingNames = []string{"isinglass", "chitosan", "kieselsol", "gelatine", "gelatin", "egg whites", "egg white", "casein", "skim milk",
	"part 1", "part one", "first part", "part 2", "part two", "second part"}

// nameFinings gives additions that were understood as finings the names under which
// they were typed, in their order.
func nameFinings(es []ferment.Entry, text string) {
	named := finingsIn(strings.ToLower(text))
	for i := range es {
		e := &es[i]
		if len(named) == 0 || e.Quantity != ferment.QAddition || e.Material != "finings" {
			continue
		}
		e.Material = named[0]
		if strings.Contains(named[0], "part") {
			e.Material = "finings, " + named[0]
		}
		named = named[1:]
	}
}

// finingsIn are the names that a text holds, in their order.
func finingsIn(text string) []string {
	type at struct {
		where int
		name  string
	}
	var found []at
	for _, n := range finingNames {
		if i := strings.Index(text, n); i >= 0 {
			found = append(found, at{i, n})
			text = text[:i] + strings.Repeat(" ", len(n)) + text[i+len(n):]
		}
	}
	sort.Slice(found, func(i, j int) bool { return found[i].where < found[j].where })
	var out []string
	for _, f := range found {
		out = append(out, f.name)
	}
	return out
}

// nameReceivers keeps to whom bottles were given: nobody is told of the allergens of
// a wine twice.
func nameReceivers(es []ferment.Entry, text string) {
	_, who, ok := strings.Cut(strings.ToLower(text), " to ")
	if !ok {
		return
	}
	who, _, _ = strings.Cut(who, ",")
	for i := range es {
		if e := &es[i]; e.Deed == ferment.DeedGiven && e.Text == "" {
			e.Text = strings.TrimSpace(strings.TrimRight(who, " .!"))
		}
	}
}
