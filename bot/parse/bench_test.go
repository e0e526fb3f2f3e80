package parse

import (
	"encoding/json"
	"testing"
	"time"
)

// BenchmarkHear is the whole way of one line: decode, understand, encode.
func BenchmarkHear(b *testing.B) {
	var lines [][]byte
	for _, r := range readRows(b) {
		l, err := json.Marshal(map[string]any{"id": "b", "text": r.text, "context": map[string]any{
			"batches": []any{map[string]any{"n": 2, "name": "gorse", "kind": "country", "volume_l": 9.1, "stage": "primary", "og": 1.088, "last_sg": 1.041, "last_when": "2026-05-03T19:00", "pitched": "2026-04-29T20:00"}},
			"active":  2, "chat": "private", "units": "metric", "now": "2026-05-05T19:30", "sender": "Mo"}})
		if err != nil {
			b.Fatal(err)
		}
		lines = append(lines, l)
	}
	now := time.Date(2026, 5, 5, 19, 30, 0, 0, time.UTC)
	var out []byte
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		id, text, ctx, err := DecodeLine(lines[i%len(lines)], 1, now)
		if err != nil {
			b.Fatal(err)
		}
		out = Message(text, ctx).AppendJSON(out[:0], id)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "messages/s")
}
