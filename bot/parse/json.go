package parse

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"time"
	"unicode/utf8"
)

// line is one object of the input, as the contract has it.
type line struct {
	ID      any `json:"id"`
	Text    any `json:"text"`
	Context *struct {
		Batches   []lineBatch `json:"batches"`
		Active    *int        `json:"active"`
		Chat      string      `json:"chat"`
		Units     string      `json:"units"`
		Now       string      `json:"now"`
		Sender    string      `json:"sender"`
		ReplyTo   string      `json:"reply_to"`
		Mention   bool        `json:"mention"`
		Forwarded bool        `json:"forwarded"`
		Lang      string      `json:"lang"`
		BotName   string      `json:"bot_name"`
		Gallon    string      `json:"gallon"`
		Members   []string    `json:"members"`
		LastEntry *lineEntry  `json:"last_entry"`
		OwnEntry  *lineEntry  `json:"own_entry"`
	} `json:"context"`
}

type lineEntry struct {
	By       string   `json:"by"`
	Batch    string   `json:"batch"`
	Quantity string   `json:"quantity"`
	Value    *float64 `json:"value"`
	Unit     string   `json:"unit"`
	Material string   `json:"material"`
	When     string   `json:"when"`
}

// last is the entry as the grammar knows it; nil for none.
func (e *lineEntry) last(loc *time.Location) *Last {
	if e == nil {
		return nil
	}
	t, _ := readTime(e.When, loc)
	return &Last{By: e.By, Batch: e.Batch, Quantity: e.Quantity, Value: e.Value, Unit: e.Unit, Material: e.Material, When: t, Day: len(e.When) == len("2006-01-02")}
}

type lineBatch struct {
	N           int     `json:"n"`
	Name        string  `json:"name"`
	Kind        string  `json:"kind"`
	VolumeL     float64 `json:"volume_l"`
	Stage       string  `json:"stage"`
	OG          float64 `json:"og"`
	LastSG      float64 `json:"last_sg"`
	LastWhen    string  `json:"last_when"`
	Pitched     string  `json:"pitched"`
	Started     string  `json:"started"`
	Stable      flag    `json:"stable"`
	Stabilised  flag    `json:"stabilised"`
	MLFWanted   flag    `json:"mlf_wanted"`
	PH          float64 `json:"ph"`
	FreeSO2     float64 `json:"free_so2"`
	BottlesLeft int     `json:"bottles_left"`
	Counting    bool    `json:"counting"`
	BottlesMade int     `json:"bottles_made"`
	Recent      []struct {
		What  string   `json:"what"`
		By    string   `json:"by"`
		When  string   `json:"when"`
		Value *float64 `json:"value"`
		Unit  string   `json:"unit"`
	} `json:"recent_events"`
}

// flag is what is so or not: a bool, or when or in which word it became so.
type flag bool

// UnmarshalJSON implements json.Unmarshaler.
func (f *flag) UnmarshalJSON(data []byte) error {
	switch string(data) {
	case "null", "false", "0", `""`, `"no"`, `"false"`, `"unwanted"`:
		*f = false
	default:
		*f = true
	}
	return nil
}

// defaultName is what the bot is called where the input does not say.
const defaultName = "mustbook"

// DecodeLine reads one line of the input. An error begins with the line's
// number. Times without a zone are in the zone of now. A missing context
// is a private chat of a metric house without batches. Unknown keys are
// ignored, and kinds and stages are taken in any of the words that the
// contract lists. Nothing here fails for what is merely missing, nor for a part of the
// context that is of another type than we know: it counts as missing.
func DecodeLine(data []byte, lineNo int, now time.Time) (id, text string, ctx Context, err error) {
	ctx = Context{Now: now, Units: "metric"}
	var l line
	err = json.Unmarshal(data, &l)
	var odd *json.UnmarshalTypeError
	if err != nil && !errors.As(err, &odd) { // the rest is read behind an odd part
		return "", "", ctx, fmt.Errorf("line %d: %w", lineNo, plainJSONError(err))
	}
	text, is := l.Text.(string)
	switch {
	case l.Text == nil:
		return "", "", ctx, fmt.Errorf("line %d: no text", lineNo)
	case !is:
		return "", "", ctx, fmt.Errorf("line %d: text is no string", lineNo)
	}
	id = idText(l.ID)
	if c := l.Context; c != nil {
		if t, ok := readTime(c.Now, now.Location()); ok {
			ctx.Now = t
		}
		ctx.Group, ctx.Sender, ctx.ReplyTo = c.Chat == "group", c.Sender, c.ReplyTo
		ctx.Mention, ctx.Forwarded, ctx.Lang = c.Mention, c.Forwarded, c.Lang
		ctx.BotName, ctx.Gallon, ctx.Members = c.BotName, c.Gallon, c.Members
		if ctx.anyName = ctx.BotName == ""; ctx.anyName {
			ctx.BotName = defaultName
		}
		if c.Units != "" {
			ctx.Units = c.Units
		}
		if c.Active != nil {
			ctx.Active = *c.Active
		}
		ctx.Batches = make([]Batch, len(c.Batches))
		for i := range c.Batches {
			ctx.Batches[i] = c.Batches[i].batch(ctx.Now)
		}
		ctx.LastEntry, ctx.OwnEntry = c.LastEntry.last(ctx.Now.Location()), c.OwnEntry.last(ctx.Now.Location())
	}
	return id, text, ctx, nil
}

// plainJSONError says what is wrong in one line without Go's type names.
func plainJSONError(err error) error {
	var syn *json.SyntaxError
	if errors.As(err, &syn) {
		return fmt.Errorf("not JSON at byte %d", syn.Offset)
	}
	return errors.New("not JSON")
}

// idText takes an id as text or number; another kind is treated as none.
func idText(v any) string {
	switch x := v.(type) {
	case string:
		return x
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return ""
}

// readTime takes the times of the contract: local to the minute, a date,
// or with offset. Seconds are accepted though the contract has none.
func readTime(s string, loc *time.Location) (time.Time, bool) {
	if s == "" {
		return time.Time{}, false
	}
	if t, ok := minuteOf(s, loc); ok {
		return t, true
	}
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339, "2006-01-02"} {
		if len(layout) != len(s) && layout != time.RFC3339 {
			continue
		}
		if t, err := time.ParseInLocation(layout, s, loc); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}

// minuteOf reads the usual form, "2026-05-03T19:00", for itself: a line has several of
// them, and a layout that is worked through costs ten times that. Days that not every
// month has are left to it.
func minuteOf(s string, loc *time.Location) (time.Time, bool) {
	if len(s) != len("2006-01-02T15:04") || s[4] != '-' || s[7] != '-' || s[10] != 'T' || s[13] != ':' {
		return time.Time{}, false
	}
	var n [5]int
	for i, at := range [5][2]int{{0, 4}, {5, 7}, {8, 10}, {11, 13}, {14, 16}} {
		for _, c := range []byte(s[at[0]:at[1]]) {
			if !isDigit(c) {
				return time.Time{}, false
			}
			n[i] = 10*n[i] + int(c-'0')
		}
	}
	if n[1] < 1 || n[1] > 12 || n[2] < 1 || n[2] > 28 || n[3] > 23 || n[4] > 59 {
		return time.Time{}, false
	}
	return time.Date(n[0], time.Month(n[1]), n[2], n[3], n[4], 0, 0, loc), true
}

// kindWords and stageWords map what the input may say to the book's words.
var kindWords = map[string]string{"fruit": "country", "country fruit": "country", "red grape": "red", "white grape": "white", "white juice": "white", "rose": "rosé"}

var stageWords = map[string]string{"must made": "must", "pitched": "lag", "primary on pulp": "primary", "primary on skins": "primary", "mlf": "secondary", "MLF": "secondary", "stable": "stopped", "finished": "stopped", "bulk ageing": "ageing"}

// batch maps one batch of the input to the book's words.
func (b *lineBatch) batch(now time.Time) Batch {
	loc := now.Location()
	out := Batch{N: b.N, Name: b.Name, Kind: b.Kind, VolumeL: b.VolumeL, Stage: b.Stage, OG: b.OG, LastSG: b.LastSG, Stable: bool(b.Stable),
		Stabilised: bool(b.Stabilised), MLFWanted: bool(b.MLFWanted), PH: b.PH, FreeSO2: b.FreeSO2, BottlesLeft: b.BottlesLeft, BottlesMade: b.BottlesMade, Counting: b.Counting}
	if k, ok := kindWords[b.Kind]; ok {
		out.Kind = k
	}
	if s, ok := stageWords[b.Stage]; ok {
		out.Stage, out.OnPulp = s, b.Stage == "primary on pulp" || b.Stage == "primary on skins"
		out.Malolactic = b.Stage == "MLF" || b.Stage == "mlf"
	}
	out.LastWhen, _ = readTime(b.LastWhen, loc)
	out.Pitched, _ = readTime(b.Pitched, loc)
	out.Started, _ = readTime(b.Started, loc)
	for _, x := range b.Recent {
		t, _ := readTime(x.When, loc)
		out.Recent = append(out.Recent, Deed{What: x.What, By: x.By, When: t, Value: x.Value, Unit: x.Unit})
	}
	return out
}

// AppendJSON appends the output object, without a newline. What does not
// apply is left out; an empty id is null. Nothing is allocated beyond dst
// but for the sorted keys of args: `hear` runs this for every line.
func (in Intent) AppendJSON(dst []byte, id string) []byte {
	dst = append(dst, `{"id":`...)
	if id == "" {
		dst = append(dst, "null"...)
	} else {
		dst = appendString(dst, id)
	}
	dst = appendField(dst, "kind", string(in.Kind))
	dst = append(dst, `,"entries":[`...)
	for i := range in.Entries {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = in.Entries[i].appendJSON(dst)
	}
	dst = append(dst, ']')
	if in.Kind == Event {
		dst = appendField(dst, "event", in.Event)
	}
	dst = appendField(dst, "action", in.Action)
	dst = appendField(dst, "topic", in.Topic)
	dst = in.appendArgs(dst)
	dst = appendField(dst, "ask", in.Ask)
	if in.Kind == Ask && len(in.Options) > 0 {
		dst = append(dst, `,"suggest":[`...)
		for i, o := range in.Options {
			if i > 0 {
				dst = append(dst, ',')
			}
			dst = appendString(dst, o.Label)
		}
		dst = append(dst, ']')
	}
	for i, w := range in.Warn {
		if i == 0 {
			dst = append(dst, `,"warn":[`...)
		} else {
			dst = append(dst, ',')
		}
		dst = appendString(dst, w)
		if i == len(in.Warn)-1 {
			dst = append(dst, ']')
		}
	}
	dst = appendField(dst, "reason", in.Reason)
	dst = appendField(dst, "why", in.Why)
	return append(dst, '}')
}

// appendArgs writes the arguments in the order of their keys, so that the
// same intent is the same line.
func (in *Intent) appendArgs(dst []byte) []byte {
	if len(in.Args) == 0 {
		return dst
	}
	keys := make([]string, 0, len(in.Args))
	for k := range in.Args {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	dst = append(dst, `,"args":{`...)
	for i, k := range keys {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(appendString(dst, k), ':')
		switch v := in.Args[k].(type) {
		case string:
			dst = appendString(dst, v)
		case float64:
			dst = appendFloat(dst, v)
		case int:
			dst = strconv.AppendInt(dst, int64(v), 10)
		case bool:
			dst = strconv.AppendBool(dst, v)
		case time.Time:
			dst = appendString(dst, v.Format("2006-01-02T15:04"))
		default:
			dst = append(dst, "null"...)
		}
	}
	return append(dst, '}')
}

// appendJSON writes value and unit always, null where there is none, and
// the rest only where it applies.
func (e *Entry) appendJSON(dst []byte) []byte {
	dst = append(dst, `{"quantity":`...)
	dst = appendString(dst, e.Quantity)
	dst = append(dst, `,"value":`...)
	if e.Value == nil {
		dst = append(dst, "null"...)
	} else {
		dst = appendFloat(dst, *e.Value)
	}
	dst = append(dst, `,"unit":`...)
	if e.Unit == "" {
		dst = append(dst, "null"...)
	} else {
		dst = appendString(dst, e.Unit)
	}
	dst = append(dst, `,"when":`...)
	dst = appendString(dst, e.When.String())
	dst = append(dst, `,"batch":`...)
	if e.Batch == "" {
		dst = append(dst, "null"...)
	} else {
		dst = appendString(dst, e.Batch)
	}
	dst = appendField(dst, "material", e.Material)
	dst = appendField(dst, "basis", e.Basis)
	dst = appendField(dst, "by", e.By)
	if e.Approx {
		dst = append(dst, `,"approx":true`...)
	}
	dst = appendField(dst, "text", e.Text)
	dst = appendField(dst, "instrument", e.Instrument)
	dst = appendField(dst, "type", e.Type)
	return append(dst, '}')
}

// String is "now", a date, or a local time to the minute. The contract's
// three forms; the zone is the house's and is not written.
func (w When) String() string {
	switch {
	case w.Now():
		return "now"
	case w.Day:
		return w.At.Format("2006-01-02")
	}
	return w.At.Format("2006-01-02T15:04")
}

// appendField writes a key and a text, nothing for an empty one.
func appendField(dst []byte, key, v string) []byte {
	if v == "" {
		return dst
	}
	dst = append(dst, ',', '"')
	dst = append(dst, key...)
	dst = append(dst, '"', ':')
	return appendString(dst, v)
}

// appendFloat writes a finite number; others cannot be typed, and would be
// no JSON. Digits without exponent, as few as give the value back.
func appendFloat(dst []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(dst, "null"...)
	}
	return strconv.AppendFloat(dst, v, 'f', -1, 64)
}

const hexDigits = "0123456789abcdef"

// appendString quotes a string for JSON; broken UTF-8 becomes the
// replacement sign. Only quotes, backslash and control signs are escaped;
// other languages' letters stay as they are.
func appendString(dst []byte, s string) []byte {
	dst = append(dst, '"')
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c >= utf8.RuneSelf:
			r, w := utf8.DecodeRuneInString(s[i:])
			if r == utf8.RuneError && w == 1 {
				dst = append(dst, "\ufffd"...)
			} else {
				dst = append(dst, s[i:i+w]...)
			}
			i += w
			continue
		case c == '"' || c == '\\':
			dst = append(dst, '\\', c)
		case c == '\n':
			dst = append(dst, '\\', 'n')
		case c < 0x20 || c == 0x7f:
			dst = append(dst, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
		default:
			dst = append(dst, c)
		}
		i++
	}
	return append(dst, '"')
}

// RejectLine is the output for a line that could not be read. Its id is
// null even where the line had one: it could not be read.
func RejectLine(dst []byte, err error) []byte {
	dst = append(dst, `{"id":null,"kind":"reject","entries":[],"error":`...)
	dst = appendString(dst, err.Error())
	return append(dst, '}')
}
