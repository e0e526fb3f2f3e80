package main

import (
	"os"
	"strings"
	"testing"
)

// TestDependencyTable: the page for developers has a line for every module that
// go.mod asks for directly, with the version that is built.
func TestDependencyTable(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	direct := 0
	for _, l := range strings.Split(string(mod), "\n") {
		f := strings.Fields(l)
		if len(f) != 2 || !strings.HasPrefix(l, "\t") || !strings.HasPrefix(f[1], "v") {
			continue // the indirect ones carry a comment
		}
		direct++
		if want := "| " + f[0] + " | " + f[1] + " |"; !strings.Contains(string(page), want) {
			t.Errorf("no line %q", want)
		}
	}
	if direct < 10 {
		t.Errorf("only %d modules found", direct)
	}
}
