package parse

import (
	"reflect"
	"testing"
)

// A sum is asked for in the cellar's short words, with the batch's name before it or
// without; no number of it may be taken for a reading or for what went in. The texts
// are of our own invention.
func TestSumsAreAsked(t *testing.T) {
	ctx := contexts()["two"]
	ctx.Active = 2
	for _, c := range []struct {
		text, topic string
		batch       int
		args        map[string]any
	}{
		{"sugar to 1.085", TopicSugarTo, 2, map[string]any{"target_sg": 1.085}},
		{"damson sugar to 1.085", TopicSugarTo, 3, map[string]any{"target_sg": 1.085}},
		{"honey for 1.100", TopicHoneyTo, 2, map[string]any{"target_sg": 1.1}},
		{"damson: honey for 1.100", TopicHoneyTo, 3, map[string]any{"target_sg": 1.1}},
		{"#3 water down to 1.060", TopicWaterTo, 3, map[string]any{"target_sg": 1.06}},
		{"acid to 6.5", TopicAcidTo, 2, map[string]any{"ta": 6.5}},
		{"damson acid to 6.5", TopicAcidTo, 3, map[string]any{"ta": 6.5}},
		{"damson acid to ph 3.3", TopicAcidTo, 3, map[string]any{"ph": 3.3}},
		{"lower the ph to 3.3", TopicAcidTo, 2, map[string]any{"ph": 3.3}},
		{"damson take acid down to 7", TopicAcidDown, 3, map[string]any{"ta": 7.0}},
		{"damson take the acid down to 7", TopicAcidDown, 3, map[string]any{"ta": 7.0}},
		{"sulphite to 0.8 molecular", TopicSulphite, 2, map[string]any{"molecular": 0.8}},
		{"damson sulphite to 0.8 at pH 3.4", TopicSulphite, 3, map[string]any{"molecular": 0.8, "ph": 3.4}},
		{"damson sulphite to 50 ppm", TopicSulphite, 3, map[string]any{"ppm": 50.0}},
		{"sulphite to 50", TopicSulphite, 2, map[string]any{"ppm": 50.0}},
		{"how much sulphite for 0.6 molecular at ph 3.5?", TopicSulphite, 2, map[string]any{"molecular": 0.6, "ph": 3.5}},
		{"campden for 20 l?", TopicSulphite, 2, map[string]any{"volume": 20.0, "unit": "L", "tablets": true}},
		{"sorbate?", TopicSorbate, 2, nil},
		{"nutrients?", TopicNutrient, 2, nil},
		{"damson nutrients?", TopicNutrient, 3, nil},
		{"damson sweeten to 1.004", TopicSweeten, 3, map[string]any{"target_sg": 1.004}},
		{"5 g sugar in each of 38 bottles", TopicPriming, 2, map[string]any{"grams": 5.0, "bottles": 38.0}},
		{"damson 5 g sugar in each of 38 bottles", TopicPriming, 3, map[string]any{"grams": 5.0, "bottles": 38.0}},
		{"5 g sugar each", TopicPriming, 2, map[string]any{"grams": 5.0}},
	} {
		in := Message(c.text, ctx)
		if in.Kind != Question || in.Topic != c.topic || in.Batch != c.batch || !reflect.DeepEqual(in.Args, c.args) {
			t.Errorf("%q: %s %s of batch %d, %v", c.text, in.Kind, in.Topic, in.Batch, in.Args)
		}
	}
	for _, text := range []string{"damson acid 6.5", "damson ph 3.3", "damson 2 g sulphite", "damson sg 1.010", "damson 30 g sugar", "acid is 6.5"} {
		if in := Message(text, ctx); in.Kind == Question {
			t.Errorf("%q tells something; it was taken for a question", text)
		}
	}
}
