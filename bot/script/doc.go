// Package script plays dated conversations of several people on a virtual clock:
// for `mustbook replay`, for tests, and for the transcripts of the README.
//
// parse.go reads a file into steps; play.go speaks them to the conversation and
// collects what the bot says; print.go renders that as text or JSON.
package script
