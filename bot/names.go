package bot

import (
	"mustbook/bot/parse"
	"mustbook/ferment"
)

// nameFinings gives additions that were understood as finings the names under which
// they were typed, in their order.
func nameFinings(es []ferment.Entry, text string) {
	var named []string
	for i := range es {
		e := &es[i]
		if e.Quantity != ferment.QAddition || e.Material != "finings" {
			continue
		}
		if named == nil {
			named = parse.FiningsNamed(text)
		}
		if len(named) == 0 {
			return
		}
		e.Material, named = named[0], named[1:]
	}
}

// nameReceivers keeps to whom bottles were given: nobody is told of the allergens of
// a wine twice.
func nameReceivers(es []ferment.Entry, text string) {
	for i := range es {
		if e := &es[i]; e.Deed == ferment.DeedGiven && e.Text == "" {
			e.Text = parse.Receiver(text)
		}
	}
}
