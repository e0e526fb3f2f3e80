package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestZonesLoad: every zone that the ear knows by a city is one of the time zone database.
func TestZonesLoad(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "bot", "parse", "zones.txt"))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, l := range strings.Split(string(data), "\n") {
		name, _, _ := strings.Cut(l, ":")
		if name == "" || strings.HasPrefix(name, "#") {
			continue
		}
		n++
		if z, err := time.LoadLocation(name); err != nil || z.String() != name {
			t.Errorf("%q: %v", name, err)
		}
	}
	if n < 400 {
		t.Errorf("only %d zones", n)
	}
}
