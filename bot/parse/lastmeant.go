package parse

import "math"

// lastMeant chooses, of the entries of the newest message, the one that a repair
// means: "strained it, 12.5 litres, 1.031", then "sorry 1.034" is about the gravity.
// A value that says what it is chooses its own; a bare one goes to the gravity where
// it looks like one, else to the nearest that it could be a slip of.
func (r *reader) lastMeant(vs []value) {
	l := r.ctx.LastEntry
	if l == nil || len(l.Beside) == 0 || len(vs) == 0 {
		return
	}
	of := append([]Last{*l}, l.Beside...)
	best := -1
	for i := range of {
		if of[i].fits(vs[0]) && (best < 0 || of[i].slip(vs[0]) < of[best].slip(vs[0])) {
			best = i
		}
	}
	if best < 1 {
		return
	}
	chosen := of[best]
	chosen.Beside = nil
	r.ctx.LastEntry = &chosen
}

// slipOf bounds how far a mistyped amount lies from the right one: beyond it, it was
// another thing that was meant (common practice, no source).
const slipOf = 2.5

func (l *Last) fits(v value) bool {
	if v.q != "bare" && v.q != "sg" && v.q != "amount" {
		return v.q == l.Quantity
	}
	gravity := gravityShaped(v.n)
	switch l.Quantity {
	case "sg", "og", "target_sg":
		return gravity
	case "temp", "ambient_temp":
		return v.q == "bare" && !gravity && tempSized(v.n) && l.slip(v) < slipOf
	}
	if v.q == "amount" && l.Unit != "" && v.unit != "" {
		return l.Unit == v.unit
	}
	return !gravity && v.q != "sg" && l.slip(v) < slipOf
}

// slip is how many times the one is the other, 1 or more.
func (l *Last) slip(v value) float64 {
	if l.Value == nil || *l.Value <= 0 || v.n.val <= 0 {
		return math.Inf(1)
	}
	return math.Max(*l.Value/v.n.val, v.n.val / *l.Value)
}
