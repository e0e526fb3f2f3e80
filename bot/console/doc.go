// Package console holds the conversation over a terminal: lines in, answers out.
// Buttons are pressed by typing their label.
package console
