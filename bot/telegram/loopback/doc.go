// Package loopback is a server on 127.0.0.1 that speaks the Bot API, strictly,
// for tests: what the platform refuses it refuses with the same words, and what
// can go wrong on the way to it can be made to go wrong.
//
// A test makes a server, gives its address to a bot, and then speaks as people do:
// Say, Edit, Press, Block, Leave. It reads what came of it from the chats, and
// waits with Wait and WaitBot, which look again after everything that happens here;
// no test has to sleep. Fail scripts what goes wrong with the next calls of a
// method, OnCall decides it for any call, and both can hold a call, do it and lose
// its answer, or cut it before anything is done.
//
// Its clock moves a second at a time, with each message, unless it is given one.
// Update ids, message ids and the confirming of updates are the platform's: private
// chats and basic groups share one sequence of message ids, a supergroup has its
// own, an offset far ahead is not believed, a second poll ends the first.
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
