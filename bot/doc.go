// Package bot is the conversation, free of any platform: one message in, entries
// and replies written in one transaction.
package bot
