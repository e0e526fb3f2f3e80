package main

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"
)

// TestDeployed holds the unit and the image against the program: what they set must
// be read, what they start must be there, and the help must tell of it all.
func TestDeployed(t *testing.T) {
	var help bytes.Buffer
	usage(&help)
	setting := regexp.MustCompile(`\b(?:MUSTBOOK|TELEGRAM)_[A-Z_]+`)
	known := map[string]bool{}
	for _, s := range setting.FindAllString(help.String(), -1) {
		known[s] = true
	}
	if len(known) != 6 {
		t.Errorf("the help tells of %d settings", len(known))
	}
	for _, f := range []string{"deploy/mustbook.service", "deploy/Dockerfile", readme} {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range setting.FindAllString(string(data), -1) {
			if !known[s] {
				t.Errorf("%s sets %s, which the help does not know", f, s)
			}
		}
		if f != readme && !strings.Contains(string(data), "serve") {
			t.Errorf("%s does not start serve", f)
		}
	}
	f := serveFlags()
	for _, name := range []string{"webhook-url", "listen", "health", "new-code"} {
		if f.Lookup(name) == nil || !strings.Contains(help.String(), "--"+name) {
			t.Errorf("--%s is not there, or not in the help", name)
		}
	}
	if d := f.Lookup("health").DefValue; d != "" {
		t.Errorf("the health page is on by default, at %q", d)
	}
	for _, line := range strings.Split(help.String(), "\n") {
		if len(line) > 100 {
			t.Errorf("a help line of %d characters: %s", len(line), line)
		}
	}
}
