package letters

import "testing"

// Names in three scripts stay, any other becomes a marker, and what would turn or
// hide the text goes.
func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"Damson 26": "Damson 26", "Żurek słodki": "Żurek słodki", "Вишня": "Вишня", "μέλι": "μέλι",
		"梅酒 2026": "□ 2026", "plum 🍷🍷": "plum □", "a\nb\tc": "a b c", "": "", "\u202egnorw": "gnorw", "a\u200bb": "ab",
		"bad\xff": "bad□", "مشمش": "□", "\x00\x07": "",
	} {
		if got := Printable(in, 30); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	if got := Printable("a very long name indeed", 10); got != "a very lo…" {
		t.Errorf("cut to %q", got)
	}
}

func TestName(t *testing.T) {
	for name, want := range map[string]string{"Damson": "Damson", "梅酒 26": "□ 26", "梅酒": "Batch 3", "梅酒 🍷": "Batch 3", "": "Batch 3"} {
		if got := Name(name, 3, 24); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
