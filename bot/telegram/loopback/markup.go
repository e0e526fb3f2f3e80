package loopback

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// tags of the HTML dialect.
var tags = []string{"b", "strong", "i", "em", "u", "ins", "s", "strike", "del", "span", "tg-spoiler", "a", "code", "pre", "blockquote", "tg-emoji"}

// readHTML gives the text without its tags, or the description of the error.
// The wording of the end-tag errors is recalled.
func readHTML(in string) (text string, err string) {
	var out strings.Builder
	var open []string
	for i := 0; i < len(in); {
		switch {
		case in[i] == '&':
			n, r := entity(in[i:])
			out.WriteString(r)
			i += n
		case in[i] == '<':
			n, name, closing := tag(in[i:])
			switch {
			case !closing && !has(tags, name):
				return "", fmt.Sprintf("can't parse entities: Unsupported start tag \"%s\" at byte offset %d", name, i)
			case n == 0:
				return "", fmt.Sprintf("can't parse entities: Unclosed start tag at byte offset %d", i)
			case closing && (len(open) == 0):
				return "", fmt.Sprintf("can't parse entities: Unexpected end tag at byte offset %d", i)
			case closing && name != open[len(open)-1]:
				return "", fmt.Sprintf("can't parse entities: Unmatched end tag at byte offset %d, expected \"</%s>\", found \"</%s>\"", i, open[len(open)-1], name)
			case closing:
				open = open[:len(open)-1]
			default:
				open = append(open, name)
			}
			i += n
		default:
			out.WriteByte(in[i])
			i++
		}
	}
	if len(open) > 0 {
		return "", fmt.Sprintf("can't parse entities: Can't find end tag corresponding to start tag \"%s\"", open[len(open)-1])
	}
	return out.String(), ""
}

// entity reads one of the four named references, or a numeric one; anything
// else is shown as typed.
func entity(in string) (n int, text string) {
	for ref, r := range map[string]string{"&lt;": "<", "&gt;": ">", "&amp;": "&", "&quot;": `"`} {
		if strings.HasPrefix(in, ref) {
			return len(ref), r
		}
	}
	if at := strings.IndexByte(in, ';'); at > 2 && in[1] == '#' {
		if code, err := strconv.Atoi(in[2:at]); err == nil && utf8.ValidRune(rune(code)) {
			return at + 1, string(rune(code))
		}
	}
	return 1, "&"
}

// tag reads <name …> or </name>; n is 0 where it has no end.
func tag(in string) (n int, name string, closing bool) {
	end := strings.IndexByte(in, '>')
	body := in[1:]
	if end >= 0 {
		body = in[1:end]
	}
	body, closing = strings.CutPrefix(body, "/")
	name, _, _ = strings.Cut(body, " ")
	if i := strings.IndexFunc(name, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '-') }); i >= 0 {
		name = name[:i]
	}
	return end + 1, strings.ToLower(name), closing
}

// bounds of a text: 1–4096 code points after its markup was read, raw ≤ 32 KiB.
func (p params) text(key string, limit int, empty, long string) (text string, r *reply) {
	raw := p.str(key)
	if len(raw) > 32<<10 {
		return fail("text is too long")
	}
	text = raw
	if strings.EqualFold(p.str("parse_mode"), "HTML") {
		parsed, err := readHTML(raw)
		if err != "" {
			return fail(err)
		}
		text = parsed
	}
	if text == "" && empty != "" {
		return fail(empty)
	}
	trimmed := strings.TrimSpace(text)
	if trimmed == "" && empty != "" {
		return fail("text must be non-empty")
	}
	if utf8.RuneCountInString(trimmed) > limit {
		return fail(long)
	}
	return trimmed, nil
}

// fail is a text that is refused.
func fail(text string) (string, *reply) { r := bad(text); return "", &r }

// keyboard reads reply_markup: no markup gives none.
func (p params) keyboard() ([][]Button, *reply) {
	if !p.has("reply_markup") {
		return nil, nil
	}
	var m *struct {
		InlineKeyboard [][]struct {
			Text         string `json:"text"`
			CallbackData string `json:"callback_data"`
			URL          string `json:"url"`
		} `json:"inline_keyboard"`
	}
	if err := json.Unmarshal([]byte(p.str("reply_markup")), &m); err != nil || m == nil {
		_, r := fail("object expected as reply markup")
		return nil, r
	}
	if len(p.str("reply_markup")) > 10<<10 { // the real bound is not documented
		_, r := fail("reply markup is too long")
		return nil, r
	}
	var rows [][]Button
	for _, row := range m.InlineKeyboard {
		var bs []Button
		for _, b := range row {
			if strings.TrimSpace(b.Text) == "" {
				_, r := fail("inline keyboard button text is empty") // recalled
				return nil, r
			}
			if b.URL == "" && (len(b.CallbackData) < 1 || len(b.CallbackData) > 64) {
				_, r := fail("BUTTON_DATA_INVALID")
				return nil, r
			}
			bs = append(bs, Button{b.Text, b.CallbackData, b.URL})
		}
		rows = append(rows, bs)
	}
	return rows, nil
}
