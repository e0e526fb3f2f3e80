package script

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"mustbook/bot"
)

// Line is a message of `replay --json`.
type Line struct {
	Type    string   `json:"type"` // always "message"
	At      string   `json:"at"`
	Chat    string   `json:"chat"`
	From    string   `json:"from"`
	Text    string   `json:"text"`
	Buttons []string `json:"buttons"`
	Image   *string  `json:"image"`
	Edits   *string  `json:"edits"`
}

// JSON writes what is said as one object a line.
func JSON(w io.Writer, zone *time.Location) func(Said) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return func(s Said) error {
		l := Line{Type: "message", At: s.At.In(zone).Format(time.RFC3339), Chat: s.Chat, From: s.From, Text: s.Text, Buttons: s.Buttons}
		if l.Buttons == nil {
			l.Buttons = []string{}
		}
		if s.Text == "" {
			l.Text = s.Reaction
		}
		if s.Image != "" {
			l.Image = &s.Image
		}
		if !s.Edits.IsZero() {
			e := s.Edits.In(zone).Format(time.RFC3339)
			l.Edits = &e
		}
		return enc.Encode(l)
	}
}

// States writes the batches at the end, one object a line.
func States(w io.Writer, all []bot.Summary) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for _, s := range all {
		if err := enc.Encode(s); err != nil {
			return err
		}
	}
	return nil
}

// Plain writes the conversation for a reader.
func Plain(w io.Writer, zone *time.Location) func(Said) error {
	day, spoke := "", ""
	return func(s Said) error {
		at := s.At.In(zone)
		if d := at.Format("Mon 2 Jan 2006"); d != day {
			day = d
			fmt.Fprintf(w, "\n%s\n", d)
		}
		text := s.Text
		if text == "" {
			text = s.Reaction
		}
		if !s.Edits.IsZero() {
			text = "(edited) " + text
		}
		lines := strings.Split(text, "\n")
		clock := at.Format("15:04")
		if s.From == "bot" && clock+s.Chat != spoke { // nobody asked: say when and where
			fmt.Fprintf(w, "%s bot, %s:\n", clock, s.Chat)
		}
		spoke = clock + s.Chat
		if s.From != "bot" {
			_, err := fmt.Fprintf(w, "%s %s, %s: %s\n", at.Format("15:04"), s.From, s.Chat, strings.Join(lines, "\n      "))
			return err
		}
		for _, l := range lines {
			if _, err := fmt.Fprintf(w, "      | %s\n", l); err != nil {
				return err
			}
		}
		if len(s.Buttons) > 0 {
			_, err := fmt.Fprintf(w, "      | [%s]\n", strings.Join(s.Buttons, "] ["))
			return err
		}
		return nil
	}
}
