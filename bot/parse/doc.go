// Package parse turns the text of a message into an Intent: what would be
// stored, what is asked, and why. It is pure: what it knows of batches, time and
// people comes in a Context, and it never touches a clock or a database.
package parse
