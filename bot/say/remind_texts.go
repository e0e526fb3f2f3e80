package say

// reminders holds the texts of all reminders, by rule. Safety advice is the usual
// caution; labels, local codes and licensed practice come first.
var reminders = map[string][]wording{
	// The start: a quiet airlock is no news, and a gravity before the yeast cannot be
	// made up for.
	"R01": {{"", "{batch}: {h} h since the sulphite. If the must is {18-24}, the yeast can go in now. Stir well and read the gravity first.", "Pitched now · Later 6 h · Type gravity"}},
	"R02": {{"", "{batch}: no start gravity yet. Stir hard, read it with the temperature before the yeast takes hold. Without it alcohol cannot be told.", "Type gravity · No hydrometer · Later 1 h"}},
	"R03": {{"", "{batch}: pitched {h} h ago. Foam, fizz, cap or smell yet? A still airlock proves nothing. Temperature?", "Working · Not yet · Type gravity"}},
	"R04": {{"", "{batch}: {h} h since the yeast. Any sign now? If not: must temperature, when was sulphite last added, and a gravity please. Still within normal when cool.", "Working · Still nothing · Type gravity"}},
	"R05": {{"", "{batch}: {h} h and no sign. Time to act: warm to {20-24}, stir in air, make a fresh yeast starter aside. I can list the steps.", "Show steps · Working after all · Re-pitched"}},
	// Primary. Carbon dioxide lies in the bucket: air first, head out.
	"R06": {{"", "{batch}: push the fruit or cap under. Air the room first and keep your head out of the bucket.", "Done · Stop these"}},
	"R07": {
		{"", "{batch}: last reading {sg}, {day}. A gravity and temperature today would show how it is going.", "Type gravity · Tomorrow · Looks fine"},
		{"", "{batch}: a gravity and temperature today would show how it is going.", "Type gravity · Tomorrow · Looks fine"},
	},
	// Powder into gassy must foams over; nutrient late feeds what is not wanted.
	"R08a": {{"", "{batch}: nutrient step {n} of {m}. Stir the gas out gently first: powder in gassy must foams over. None after two thirds of the sugar.", "Nutrient in · Skip"}},
	"R08b": {{"", "{batch}: sugar step {n} of {m}: {amount}. Read the gravity before and after, both, so that the alcohol stays right.", "Type both · Skip"}},
	"R09": {
		{"", "{batch}: day {d}. Please read gravity + temperature. At or below {rack_sg} it can be racked off the heavy lees.", "Type gravity · Racked already · In 2 days"},
	},
	"R10": {{"", "{batch}: {sg}, at your racking point ({rack_sg}). Clean jar, siphon, leave the lees, fit the airlock. Note the volume you end with.", "Racked · Remind Sat · Not racking"}},
	"R11": {
		{"", "{batch}: {d} days on the fruit, {sg}. Taste it: if there is colour and flavour enough, lift out the pulp now. Keep it from dogs.", "Strained · Pressed · 2 more days"},
		{"", "{batch}: {d} days on the fruit. Taste it: if there is colour and flavour enough, lift out the pulp now. Keep it from dogs.", "Strained · Pressed · 2 more days"},
	},
	// Heat: slow cooling only, a shock stops the yeast.
	"R12a": {{"", "{batch}: {temp} is hot for it. Wet towel and fan, or ice bottles in a tub round it, slowly: not over {+5} an hour. No nutrient now. Read again in 4 h.", "Cooling it · Type temperature · Room, not must"}},
	"R12b": {{"", "{batch}: up {rise} in {h} h, now {temp}. Not hot yet, but it heats itself. Move it somewhere cooler, air round it. Temperature again in 4 h.", "Moved it · Type temperature · Room, not must"}},
	"R12c": {{"", "{batch}: {p} points in a day is fast. Must temperature?", "Type temperature · Later"}},
	"R13":  {{"", "Hot spell: {n} at work. Check temperatures morning and evening; move low and shaded; blinds down.", "Type temperatures · All cool"}},
	// Cold is told before stuck, and stuck never reads as finished.
	"R14": {{"", "{batch}: {sg}, hardly moved in {d} days, and only {temp}. Cold comes first: bring it to {18-21} over a day, swirl up the lees, read 2 days after.", "Moved it · Type temperature · Meant to be slow"}},
	"R15": {{"", "{batch}: {sg}, hardly moving, and not dry. That is stuck, not finished: do not stabilise or bottle. Shall I go through it with you?", "Check list · It's meant sweet · Type gravity"}},
	"R16": {{"", "{batch}: a week in the jar. Gravity + temperature? And is there water in the airlock?", "Type gravity · Airlock ok"}},
	"R17": {{"", "{batch}: {sg}, {day}. Read again today, same hydrometer, shaken free of gas, same temperature, to see whether it has stopped.", "Type gravity · Tomorrow"}},
	"R18": {{"", "{batch}: two readings agree ({sg}). One more today settles it.", "Type gravity · Tomorrow"}},
	// Malolactic is asked where it is likely and nobody has said; sorbate is named only
	// where it is ruled out. The volume may not be known.
	"R19": {
		{"ask", "{batch}: stopped at {sg}, {racked}. Is malolactic wanted? If not: sulphite weighed for {v}. Window open, do not breathe the dust.", "Stabilised · Volume is… · Malolactic wanted · Later"},
		{"ask", "{batch}: stopped at {sg}. Is malolactic wanted? If not: rack, then sulphite weighed for {v}. Window open, do not breathe the dust.", "Stabilised · Volume is… · Malolactic wanted · Later"},
		{"ask", "{batch}: stopped at {sg}. Is malolactic wanted? If not: rack, then sulphite weighed for its volume. Window open, do not breathe the dust.", "Stabilised · Volume is… · Malolactic wanted · Later"},
		{"sorbate", "{batch}: stopped at {sg}, sweet, {racked}. Now sulphite and sorbate, both weighed for {v}. Window open, do not breathe the dust.", "Stabilised · Volume is… · Later"},
		{"sorbate", "{batch}: stopped at {sg}, sweet. Rack, then sulphite and sorbate, both weighed for {v}. Window open, do not breathe the dust.", "Stabilised · Volume is… · Later"},
		{"sorbate", "{batch}: stopped at {sg}, sweet. Rack, then sulphite and sorbate, both weighed for its volume. Window open, do not breathe the dust.", "Stabilised · Volume is… · Later"},
		{"", "{batch}: stopped at {sg}, {racked}. Now sulphite weighed for {v}. Window open, do not breathe the dust.", "Stabilised · Volume is… · Malolactic wanted · Later"},
		{"", "{batch}: stopped at {sg}. Rack, then sulphite weighed for {v}. Window open, do not breathe the dust.", "Stabilised · Volume is… · Malolactic wanted · Later"},
		{"", "{batch}: it has stopped. Rack, then sulphite weighed for its volume. Window open, do not breathe the dust.", "Stabilised · Volume is… · Malolactic wanted · Later"},
	},
	"R20": {
		{"missing", "{batch}: sorbate noted, sulphite not. Sorbate alone does not hold: sweet wine needs both.", "Sulphite added · Undo"},
		{"", "{batch}: sulphite noted, sorbate not. Sweet wine needs both. Never sorbate if it went, or may go, through malolactic.", "Sorbate added · Sulphite only · Undo"},
	},
	"R21": {{"", "{batch}: stir out gas again? Warm wine lets go best. Palm-over-jar shake test: no puff = done.", "Done · No gas left · Skip"}},
	"R22": {{"", "{batch}: second finings due now. Stir gently, then leave the jar still.", "Added · Later 1 h"}},
	"R23": {{"", "{batch}: two weeks since finings. Bright with a torch behind it? If yes, rack off without moving the lees.", "Clear: racked · Still hazy · A week more"}},
	"R24": {{"", "{batch}: malolactic check. Bubbles at a steady gravity can be this, not sugar. No sulphite and no sorbate till the test says finished.", "Finished · Not yet · No test kit"}},
	// What the pH asks for is only named where it is known.
	"R25": {
		{"want", "{batch}: malolactic done. Rack, and sulphite for its pH (free {want} at pH {ph}). Window open, do not breathe the dust.", "Sulphited · Type pH · Later"},
		{"", "{batch}: malolactic done. Rack, and sulphite for its pH (not known? Read it first). Window open, do not breathe the dust.", "Sulphited · Type pH · Later"},
	},
	"R26": {{"", "{batch}: {n} weeks since racking. More than a finger of lees? Rack, top up full with like wine, note the volume.", "Racked · No lees · Remind in 3 wk"}},
	"R27": {{"", "{batch}: about {air} of air above the wine. Top up with like wine, use a smaller jar, or say what you did.", "Topped up · Smaller jar · Still fizzing"}},
	"R28": {{"", "Airlocks: {list}. Water up, bungs tight, no film on the wine?", "All fine · Topped water · Saw a film"}},
	"R29": {
		{"want", "{batch}: free SO2 was {so2}, {day}. At pH {ph} you want {want}. Test it, then top up only the gap.", "Type SO2 · No kit · In 2 wk"},
		{"so2", "{batch}: free SO2 was {so2}, {day}. It falls with time: test it, then top up only the gap.", "Type SO2 · No kit · In 2 wk"},
		{"", "{batch}: weeks since its sulphite. Test the free SO2, then top up only the gap.", "Type SO2 · No kit · In 2 wk"},
	},
	"R30": {{"", "{batch}: no pH on its sheet. With it I can say how much free SO2 it needs; without, only a rough middle figure.", "Type pH · No meter"}},
	// The limit of cold needs the alcohol.
	"R31": {
		{"", "{batch}: two weeks in the cold. Rack off the crystals while cold, then bring it in. Keep it above {temp}: at {abv} % a full jar freezes and bursts.", "Brought in · A week more"},
		{"", "{batch}: two weeks in the cold. Rack off the crystals while cold, then bring it in. A full jar that freezes bursts.", "Brought in · A week more"},
	},
	"R32": {
		{"", "{batch}: sweetened {d} days ago at {sg}. Same gravity now? If it fell, it is working again: do not bottle.", "Same · It fell · Type gravity"},
		{"", "{batch}: sweetened {d} days ago. Read it now, and again: if it falls, it is working: do not bottle.", "Type gravity"},
	},
	"R33": {{"", "{batch}: blend is {d} days old. Clear, no gas, gravity steady?", "All good · Hazy · Gas · Type gravity"}},
	"R34": {
		{"", "{batch}: looks ready. Before bottling: gravity today, gas out, clear, SO2. {b} bottles for {v}. Free SO2 5 over target for the filling loss.", "Type gravity · Bottled · Pick a date"},
		{"", "{batch}: looks ready. Before bottling: gravity today, gas out, clear, SO2. Free SO2 5 over target for the filling loss.", "Type gravity · Bottled · Pick a date"},
	},
	// Urgent: danger first, the taps after.
	"R35": {
		{"", "Wait: {batch} last read {sg}, {day}. Sugar left or wine still working can burst bottles. One reading now, please. Already filled? Tap below first.", "Type gravity · Already bottled · It's meant fizzy"},
		{"", "Wait: {batch} has no reading. Sugar left or wine still working can burst bottles. One reading now, please. Already filled? Tap below first.", "Type gravity · Already bottled · It's meant fizzy"},
	},
	"R36": {{"", "{batch}: bottles stood {d} days. Any leakers or raised corks? If not, lay them down, cool and dark.", "Laid down · Leaker · Raised corks"}},
	// The order of the words is the order of the hands: goggles, then look.
	"R37": {{"", "{batch}: goggles and gloves on first. Corks up, caps domed, test bottle hard? Then touch nothing, keep everyone away and tell me. All flat: fine.", "Fine · Some fizz · Raised corks"}},
	"R38": {
		{"year", "{batch}: label it before the shelf forgets. Suggested: {name} {year}, bottled {bottled}, about {abv} %, contains {allergens}. Home made, not for sale.", "Labelled · No labels"},
		{"", "{batch}: label it before the shelf forgets. Suggested: {name}, bottled {bottled}, about {abv} %, contains {allergens}. Home made, not for sale.", "Labelled · No labels"},
		{"", "{batch}: label it before the shelf forgets. Suggested: {name}, bottled {bottled}, contains {allergens}. Home made, not for sale.", "Labelled · No labels"},
	},
	// Nobody is urged to drink: "if you like".
	"R39": {
		{"", "{batch}: in bottle {months}. Due a look if you like: a two-line note is all. {left} left.", "Add note · In 3 months · Off"},
		{"", "{batch}: in bottle {months}. Due a look if you like: a two-line note is all.", "Add note · In 3 months · Off"},
	},
	"R40": {
		{"", "{batch}: {left} bottles, at its best until about {year}. A line if one has been opened?", "Add note · Keep · Last one gone"},
		{"", "{batch}: at its best until about {year}. A line if one has been opened?", "Add note · Keep · Last one gone"},
	},
	"R41": {{"", "{batch}: nothing noted for {d} days. All well, or has it been bottled?", "All well · Bottled… · It's empty · Pause"}},
	"R42": {{"", "You are away {from}–{to}. Due then: {list}. Who minds them?", "Somebody… · Nobody: pause · Show list"}},
	"R43": {{"", "Welcome back. Most wanted: gravity + temperature of {list}, a look at airlocks. The rest can wait.", "Type gravity"}},
	"R44": {{"", "{batch} carries: {allergens}. Worth telling whoever drinks it.", "Noted"}},
	// The emergency number is the house's where it is known.
	"R45": {
		{"several", "{batch} are working. Their gas (CO2) has no colour or smell and can kill. Air the room, low down too, before going in. Dizzy: out. Someone down: stay out, call {emergency}.", "Understood"},
		{"several", "{batch} are working. Their gas (CO2) has no colour or smell and can kill. Air the room, low down too, before going in. Dizzy: out. Someone down: stay out, call 112.", "Understood"},
		{"emergency", "{batch} is working. Its gas (CO2) has no colour or smell and can kill. Air the room, low down too, before going in. Dizzy: out. Someone down: stay out, call {emergency}.", "Understood"},
		{"", "{batch} is working. Its gas (CO2) has no colour or smell and can kill. Air the room, low down too, before going in. Dizzy: out. Someone down: stay out, call 112.", "Understood"},
	},
	"R46":    {{"", "This year so far: {made} made of your set limit {limit}. Rules differ by place; please check yours.", "Show list · Change limit"}},
	"R47":    {{"", "Quick check: float the hydrometer in plain water at its marked temperature. It should read {water}; tell me what you see.", "1.000 · It reads…"}},
	"R48":    {{"", "Your {what} was opened a year ago. It loses strength: worth replacing before the next dose.", "New one · Keep"}},
	"R49":    {{"", "{batch}: oak has been in {d} days. Taste it: it never gets less. Out, or another week?", "Out · A week more"}},
	"R50":    {{"batch", "{batch}: you asked to be reminded: {what}", "Done · Tomorrow · Drop it"}, {"", "You asked to be reminded: {what}", "Done · Tomorrow · Drop it"}},
	"R51":    {{"", "{batch}: fresh yeast went in {h} h ago. Gravity and temperature, please: one point down is a start.", "Working · Not yet · Type gravity"}},
	"weekly": {{"", "The week's batches:", "Off"}},
}

// shorts are what the day's message and "what next" say of a reminder, a line of
// at most 41 characters beside the batch's name.
var shorts = map[string]string{
	"R01": "{batch}: the yeast can go in", "R02": "{batch}: read the start gravity", "R03": "{batch}: is it working yet?",
	"R04": "{batch}: any sign now?", "R05": "{batch}: no start, act", "R06": "{batch}: push the fruit under",
	"R07": "{batch}: read gravity + temp", "R08a": "{batch}: nutrient {n} of {m}", "R08b": "{batch}: sugar {n} of {m}",
	"R09": "{batch}: day {d}, read gravity", "R10": "{batch}: {sg}, can be racked", "R11": "{batch}: lift the pulp out?",
	"R12a": "{batch}: {temp} is hot", "R12b": "{batch}: up {rise}", "R12c": "{batch}: fast, temperature?",
	"R13": "Hot spell: check temperatures", "R14": "{batch}: cold, warm it slowly", "R15": "{batch}: {sg}, stuck",
	"R16": "{batch}: weekly gravity, airlock", "R17": "{batch}: second reading", "R18": "{batch}: closing reading",
	"R19": "{batch}: stopped, stabilise next", "R20": "{batch}: second substance", "R21": "{batch}: degas again",
	"R22": "{batch}: second finings", "R23": "{batch}: is it clear?", "R24": "{batch}: malolactic test",
	"R25": "{batch}: malolactic done, sulphite", "R26": "{batch}: {n} weeks, rack again?", "R27": "{batch}: top up, {air} of air",
	"R28": "Airlocks: a look", "R29": "{batch}: test free SO2", "R30": "{batch}: pH not known",
	"R31": "{batch}: out of the cold", "R32": "{batch}: sweetened, read again", "R33": "{batch}: blend, steady?",
	"R34": "{batch}: looks ready to bottle", "R35": "{batch}: NOT safe, read it now", "R36": "{batch}: lay the bottles down",
	"R37": "{batch}: look at the bottles", "R38": "{batch}: labels", "R39": "{batch}: first note, if you like",
	"R40": "{batch}: best until about {year}", "R41": "{batch}: silent for {d} days", "R42": "Away: who minds the batches?",
	"R43": "Welcome back: read {list}", "R44": "{batch}: tell guests", "R45": "{batch}: air the room",
	"R46": "Year so far: {made}", "R47": "Hydrometer: check in water", "R48": "{what}: a year old",
	"R49": "{batch}: oak in {d} days, taste", "R50": "{what}", "R51": "{batch}: fresh yeast, working?",
	"weekly": "The week's batches",
}
