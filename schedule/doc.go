// Package schedule decides what a household is to be reminded of. It is pure: a
// batch's state, what the forecast says, what was said before and an instant go
// in; what is due comes out. It knows no clock, no disk and no chat.
//
// schedule.go has the values that go in and out, house.go what holds for the
// whole house. clock.go places an instant: quiet hours, the daily bundle, clock
// changes. plan.go turns nudges into items: what was made, answered, snoozed or
// muted, and what is late. table.go is the table of all rules, with weight,
// default and range.
//
// A rule finds what it counts from and when it is moot, with view.go, facts.go,
// series.go and args.go at hand; what it finds is a nudge (tell.go), and finders.go lists
// all rules in the order of the table. By the age of a batch they are in start.go,
// primary.go, steps.go, stir.go and heat.go; still.go and malolactic.go; clearing.go and
// stabilise.go; jar.go and bottle.go; cellar.go. anytime.go holds at every age;
// housewide.go, airlocks.go and wave.go are about all batches at once.
//
// forbid.go keeps opposite reminders apart, budget.go bounds a first week's. answer.go
// says what each button means, bundle.go what fits into one message.
//
// The ticks live in the room below, schedule/runner.
package schedule
