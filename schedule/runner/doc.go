// Package runner holds the only ticking thing of the program. Each minute it asks
// the book which subjects are due and hands them on, a household at a time; each
// night it makes a verified backup and rotates the older ones. It decides nothing:
// what is due is for package schedule to say and for package bot to send.
//
// runner.go has the ticks, tick.go what one does, backup.go the night's copy.
package runner
