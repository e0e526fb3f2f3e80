// Package schedule decides what a household is to be reminded of. It is pure: a
// batch's state, what the forecast says, what was said before and an instant go
// in; what is due comes out. It knows no clock, no disk and no chat.
//
// schedule.go has the values that go in and out, house.go what holds for the
// whole house. clock.go places an instant: quiet hours, the daily bundle, clock
// changes. plan.go turns nudges into items: what was made, answered, snoozed or
// muted, and what is late. table.go is the table of all rules, with weight,
// default and range; start.go, primary.go, heat.go, still.go,
// stabilise.go, jar.go, bottle.go and housewide.go hold what each counts from and
// when it is moot. forbid.go keeps opposite reminders apart. answer.go says what
// each button means, bundle.go what fits into one message.
//
// The ticks live in the room below, schedule/runner.
package schedule
