package bot

import (
	"mustbook/bot/parse"
	"mustbook/ferment"
)

// advice is what to do about what a remark complains of; nil where it complains of
// nothing. Fizz in a jar that works is no complaint.
func (t *turn) advice(s *ferment.State, es []ferment.Entry) []string {
	for _, e := range es {
		switch {
		case e.Quantity != ferment.QFault && e.Quantity != ferment.QNote && e.Deed != ferment.DeedWorking && e.Deed != ferment.DeedNotWorking:
			continue
		case t.in.Kind == Pressed:
			return nil // a tap on a button says no more than its label
		}
		text := e.Text
		if text == "" {
			text = t.in.Text
		}
		name := parse.Complaint(text)
		if e.Deed == ferment.DeedNotWorking && name == "" {
			name = "no_start"
		}
		if name == "" || name == "fizz" && s.Bottled.IsZero() && s.Stop.Shown.IsZero() {
			continue
		}
		return t.bk.style.Fault(s, name)
	}
	return nil
}
