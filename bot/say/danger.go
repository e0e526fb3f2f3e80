package say

import "strings"

// emergency is what to call where the household's country is not known.
const emergency = "112 or 911"

// dangers are the texts of first aid. They go out whole, in any chat, to anyone,
// without buttons; {112} is the emergency number of the household's country.
var dangers = map[string]string{
	"safety_gas":       "Everybody out, into fresh air, now. Leave the door open. If someone is down do NOT go in: call {112} and say \"carbon dioxide\". Headache or faint that stays: call too.",
	"safety_cleaner":   "Leave the room, door open, do not go back to rinse. Fresh air. Eyes or skin: running water 20 minutes. Short of breath: call {112}. Otherwise your poison centre.",
	"safety_bottles":   "Stay out and shut the door. Do not move, touch or open any. Children and pets away. Bleeding: press hard, call {112}. When nobody is near them, tell me the batch.",
	"safety_swallowed": "Call {112} or your poison centre now and read them the label. Do not make anyone vomit. Keep the tub with you.",
	"safety_sulphite":  "Out into fresh air, sit up, own inhaler. Not better within minutes, or lips blue: call {112}. Somebody else clears up, windows open.",
	"safety_cut":       "Press hard with a clean cloth and keep pressing. Leave glass that is stuck in. Spurting or numb: call {112}.",
	"safety_shock":     "Do not touch them. Cut the power at the fuse box, then call {112}.",
	"safety_fire":      "Get everybody out, shut the door behind you, call {112}. Do not use water on anything that is plugged in.",
}

// Danger returns the text for a cry for help and whether the topic is one. number
// is the emergency number where it is known.
func Danger(topic, number string) (string, bool) {
	t, ok := dangers[topic]
	if number == "" {
		number = emergency
	}
	return strings.ReplaceAll(t, "{112}", number), ok
}
