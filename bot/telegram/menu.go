package telegram

import (
	"context"
	"time"

	lib "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"
)

// commands of the menu; plain words do the same.
var commands = []models.BotCommand{
	{Command: "now", Description: "How it goes and what to do next"},
	{Command: "next", Description: "What falls due, and when"},
	{Command: "book", Description: "All batches, or one batch's entries"},
	{Command: "graph", Description: "The gravity drawn over time"},
	{Command: "sheet", Description: "A batch's record sheet to print"},
	{Command: "bottles", Description: "What is in the cellar"},
	{Command: "undo", Description: "Take back your last message"},
	{Command: "settings", Description: "Units, hydrometer, zone, reminders"},
	{Command: "help", Description: "How to type readings and deeds"},
}

// menu asks who the bot is and sets its commands, however long the network takes.
func (b *tg) menu(ctx context.Context) {
	for wait := time.Second; ; wait = min(2*wait, 5*time.Minute) {
		_, err := b.self(ctx)
		if err == nil {
			_, err = b.lib.SetMyCommands(ctx, &lib.SetMyCommandsParams{Commands: commands})
		}
		if err == nil || ctx.Err() != nil {
			return
		}
		b.cfg.Log.Debug("menu", "error", b.redact(err))
		if !pause(ctx, wait) {
			return
		}
	}
}
