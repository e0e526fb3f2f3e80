package bot

import (
	"fmt"
	"strings"
	"testing"

	"mustbook/ferment"
)

// What people say of wines put together, and what is meant: the parts with their litres
// (0: all), the name of what comes of it, or the word that is no batch.
func TestReadPouring(t *testing.T) {
	open := []*ferment.State{{N: 1, Name: "gorse a"}, {N: 2, Name: "gorse b"}, {N: 3, Name: "elder"}, {N: 4, Name: "apple cider"}, {N: 12, Name: "damson 26"}}
	bk := &book{batches: open}
	bk.style.Units = "metric"
	for said, want := range map[string]string{
		"merge gorse a and b":                                    "gorse a:0 gorse b:0",
		"put gorse a and gorse b together":                       "gorse a:0 gorse b:0",
		"blended 10 l elder with 5 l apple":                      "elder:10 apple cider:5",
		"blended 10l of the elder, 5l of apple cider":            "elder:10 apple cider:5",
		"blend elder and apple into house red":                   "elder:0 apple cider:0 > house red",
		"Blend elder and apple into a new batch called Winter":   "elder:0 apple cider:0 > Winter",
		"merged elder & damson 26 into Sunday Red yesterday":     "elder:0 damson 26:0 > Sunday Red",
		"merge #3 and #4":                                        "elder:0 apple cider:0",
		"merge elder into apple":                                 "elder:0 > apple",
		"blended 500 ml elder into apple cider":                  "elder:0.5 > apple cider",
		"merge elder and quux":                                   "elder:0 ? quux",
		"blended 10 l elder with 5 l sloe":                       "elder:10 ? sloe",
		"merge elder and elder":                                  "elder:0",
		"put elder and apple together and racked it":             "elder:0 apple cider:0",
		"merge elder and apple, all of it, in the big jar today": "elder:0 apple cider:0",
	} {
		p := bk.poured(said)
		var got []string
		for _, x := range p.parts {
			got = append(got, fmt.Sprintf("%s:%g", x.s.Name, x.v))
		}
		if p.into != "" {
			got = append(got, "> "+p.into)
		}
		if p.unknown != "" {
			got = append(got, "? "+p.unknown)
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%q: %q, want %q", said, s, want)
		}
	}
}
