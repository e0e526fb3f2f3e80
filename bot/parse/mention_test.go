package parse

import "testing"

func TestSpoken(t *testing.T) {
	for in, want := range map[string]string{
		"/now@cellar_bot":                  "/now",
		"/now@Cellar_Bot damson":           "/now damson",
		"@cellar_bot status":               "status",
		"@cellar_bot, sg 1.048":            "sg 1.048",
		"sg 1.048 @ 20c":                   "sg 1.048 @ 20c",
		"/now@other_bot":                   "/now@other_bot",
		"nora@cellar_bot":                  "nora@cellar_bot",
		"note: ask\n@cellar_bot  tomorrow": "note: ask\n  tomorrow",
		"":                                 "",
	} {
		if got := Spoken(in, "cellar_bot"); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
