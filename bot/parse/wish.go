package parse

import "strings"

// Wish is what a batch is to be served with, told where it is begun: a rack point, the day
// of its check, the range of its sheet.
type Wish struct {
	Topic string
	Args  map[string]any
}

// wishes takes the clauses that set something out of a begin: "new gorse 9 l, rack at
// 1.012, check day 5". What they say is no reading and no day of this batch.
func (r *reader) wishes() []Wish {
	var out []Wish
	for from := 0; from < len(r.items); {
		to := from
		for to < len(r.items) && !r.items[to].punct(",") && !r.items[to].punct(";") && r.items[to].kind != tLine {
			to++
		}
		if from > 0 && to > from {
			if in, ok := r.wish(strings.TrimSpace(r.text[r.items[from].start:r.items[to-1].end])); ok {
				if in.Topic != TopicSetRange {
					in.Args["sheet"] = hasAny(r.folded, "kit|sheet") // a kit's, unless it is said otherwise
				}
				out = append(out, Wish{in.Topic, in.Args})
				for k := from; k < to; k++ {
					r.items[k].used = "wish"
				}
				r.dropTimes(from, to)
			}
		}
		from = to + 1
	}
	return out
}

// wish reads one clause as a setting of a batch's plan.
func (r *reader) wish(clause string) (Intent, bool) {
	ctx := Context{Units: r.ctx.Units, Now: r.ctx.Now}
	for _, head := range []string{"", "set "} {
		q := readerOf(head+clause, &ctx)
		q.read()
		if len(q.items) == 0 || len(q.items) > 12 {
			return Intent{}, false
		}
		if in, ok := q.setting(); ok && (in.Topic == TopicSetRack || in.Topic == TopicSetCheckDay || in.Topic == TopicSetRange) {
			return in, true
		}
	}
	return Intent{}, false
}
