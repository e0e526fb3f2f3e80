package bot

import (
	"fmt"
	"testing"

	"mustbook/ferment"
)

// What a household types to see years beside each other, and which batches it means.
func TestNamed(t *testing.T) {
	bk := &book{}
	for i, name := range []string{"elder 24", "elder 25", "elder 26", "damson", "old plum", "plum"} {
		bk.batches = append(bk.batches, &ferment.State{N: i + 1, Name: name, Stage: ferment.Empty})
	}
	bk.batches[4].Names = []string{"cellar plum"}
	for text, want := range map[string][]int{
		"graph elder 25 elder 26":     {2, 3},
		"Graph Elder 26, elder 25!":   {3, 2},
		"graph elder 24 and 26":       {1, 3},
		"graph elder 24 25 26":        {1, 2, 3},
		"graph elder 24 and damson":   {1, 4},
		"graph elder":                 {1, 2, 3},
		"graph #4 #6":                 {4, 6},
		"graph old plum":              {5},
		"graph plum":                  {6},
		"show cellar plum and damson": {5, 4},
		"graph elder 25, elder 25":    {2},
		"graph elder 31":              {1, 2, 3}, // no such year: all there are
		"graph":                       nil,
		"graph elderly":               nil,
		"graph old":                   nil, // one alone is for the understanding to find
		"":                            nil,
	} {
		var got []int
		for _, s := range bk.named(text) {
			got = append(got, s.N)
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}
