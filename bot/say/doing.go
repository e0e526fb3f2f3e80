package say

import "unicode"

// doings are what there is to do, by the reminder that will ask for it; short, since
// the day comes behind.
var doings = map[string]string{
	"R01": "Pitch", "R02": "Read the gravity, with its temperature", "R03": "Look if it works", "R04": "Look again if it works",
	"R05": "No start: act", "R06": "Push the fruit under", "R07": "Read", "R08a": "Nutrient step", "R08b": "Sugar step", "R09": "Read",
	"R10": "Rack off the lees", "R11": "Strain or press", "R12a": "Cool it slowly", "R12b": "Move it cooler", "R12c": "Take its temperature",
	"R13": "Check temperatures", "R14": "Cold comes first: warm it", "R15": "Do not stabilise or bottle. Read", "R16": "Read", "R17": "Read",
	"R18": "Read", "R19": "Rack and stabilise", "R20": "Second substance", "R21": "Stir the gas out", "R22": "Second finings",
	"R23": "See if it is clear", "R24": "Test malolactic", "R25": "Rack and sulphite", "R26": "Rack if there are lees", "R27": "Top up",
	"R28": "Look at the airlocks", "R29": "Test free SO2", "R30": "Read the pH", "R31": "Bring it in", "R32": "Read after sweetening",
	"R33": "See if the blend is steady", "R34": "See to bottling", "R35": "NOT safe: read it", "R36": "Lay down", "R37": "Look for fizz",
	"R38": "Label", "R39": "First look", "R40": "At its best until about", "R41": "Say how it is", "R42": "Say who minds the batches",
	"R43": "Read what works", "R44": "Tell guests", "R45": "Air the room", "R46": "Year total", "R47": "Check hydrometer in water",
	"R48": "New tub", "R49": "Taste the oak", "R51": "Look if it works", "weekly": "Round-up",
}

// Doing is what a reminder will ask for, in a few words.
func Doing(rule string, args map[string]string) string {
	switch {
	case rule == "R50":
		what := []rune(Clip(args["what"], 24))
		if len(what) > 0 {
			what[0] = unicode.ToUpper(what[0])
		}
		return string(what)
	case rule == "R35" && args["mlf"] != "": // no gravity settles that
		return "NOT safe: is malolactic done?"
	case rule == "R19" && args["ask"] != "":
		return "Is malolactic wanted?"
	case rule == "R19" && args["racked"] != "":
		return "Stabilise"
	}
	return doings[rule]
}
