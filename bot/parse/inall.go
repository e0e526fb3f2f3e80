package parse

// inAll gives the amount of "1 campden per gallon, 3 in all" to what was put in: so much a
// gallon is how it was reckoned, the sum is what went in.
func (r *reader) inAll(d *draft) {
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.q != "bare" || !r.sumBehind(v.end) {
			continue
		}
		for k := range d.claims {
			c := &d.claims[k]
			if c.e.Quantity == "addition" && c.e.Value != nil && c.at < v.at && r.rateBetween(c.at, v.at) {
				f := v.v
				c.e.Value, c.e.Typed, v.taken = &f, v.n.typed, true
				break
			}
		}
	}
}

// sumBehind reports "total", "in all", "altogether" at item k.
func (r *reader) sumBehind(k int) bool {
	if k < len(r.items) && r.items[k].fold == "in" {
		k++
		return k < len(r.items) && (r.items[k].fold == "total" || r.items[k].fold == "all")
	}
	if k >= len(r.items) {
		return false
	}
	switch r.items[k].fold {
	case "total", "altogether", "in total", "in all", "all told":
		return true
	}
	return false
}

// rateBetween reports "per gallon" or "a litre" between two items.
func (r *reader) rateBetween(from, to int) bool {
	for k := from; k+1 < to; k++ {
		if (r.items[k].fold == "per" || r.items[k].fold == "a" || r.items[k].punct("/")) && isVolumeUnit(r.items[k+1].name(cUnit)) {
			return true
		}
	}
	return false
}
