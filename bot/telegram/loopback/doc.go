// Package loopback is a server on 127.0.0.1 that speaks the Bot API, strictly,
// for tests: what the platform refuses it refuses with the same words, and what
// can go wrong on the way to it can be made to go wrong.
//
//   - server.go: the listener, requests in, the envelope out
//   - params.go: fields and files of a request, whatever its encoding
//   - updates.go: getUpdates and the webhook: offsets, confirmation, conflicts
//   - world.go: people, chats, topics and messages as the platform keeps them
//   - people.go: what people do: say, edit, press, send pictures, come and go
//   - privacy.go: what a bot is shown of a group
//   - send.go, edit.go, chat.go: the methods that a bot calls
//   - markup.go: the HTML dialect and keyboards, with their errors
//   - fault.go: scripted faults
//   - read.go: what the bot has done, and waiting for it without sleeping
//
// Semantics and error texts follow the open-source servers tdlib/td and
// tdlib/telegram-bot-api and the documented Bot API; where a text is from memory
// the comment beside it says so.
package loopback
