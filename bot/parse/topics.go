package parse

// The topics of questions, commands and settings. The arguments of each
// stand beside it; all are optional unless the text always gives them.
const (
	// How the batch stands; also what no other topic fits.
	TopicStatus = "status"
	// Alcohol so far.
	TopicABV = "abv"
	// What to do next.
	TopicNext = "next"
	// What falls due within a week.
	TopicDueWeek = "due_week"
	// The open batches.
	TopicList = "list"
	// All readings of a batch.
	TopicHistory = "history"
	// The newest reading.
	TopicLast = "last_reading"
	// Alcohol if fermented dry, from a gravity or the start gravity.
	TopicPotential = "potential" // value, unit
	// One scale or unit in another.
	TopicConvert = "convert" // value, unit, to
	// Sugar left, by balance.
	TopicSugarLeft = "sugar_left"
	// How much wine there is.
	TopicVolume = "volume"
	// When it can be racked, or whether at a given gravity.
	TopicWhenRack = "when_rack" // sg
	// When it will be dry.
	TopicWhenDry = "when_dry"
	// Whether it may be bottled.
	TopicWhenBottle = "when_bottle"
	// Whether it may be stabilised.
	TopicStabilise = "when_stabilise"
	// Whether it is stuck.
	TopicIsStuck = "is_stuck"
	// Whether it has stopped.
	TopicIsStopped = "is_stopped"
	// Sugar to reach a gravity; for the volume of now or of the end.
	TopicSugarTo = "sugar_to_target" // target_sg, volume, unit, mode (now, final)
	// Honey to reach a gravity.
	TopicHoneyTo = "honey_to_target" // the same
	// Water to come down to a gravity.
	TopicWaterTo = "water_to_target" // the same
	// Acid to raise the acidity or lower the pH.
	TopicAcidTo = "acid_to" // ta, ph
	// How to lower the acidity.
	TopicAcidDown = "acid_down_to" // ta, ph
	// Sulphite for a target.
	TopicSulphite = "sulphite_dose" // molecular, ppm, volume, unit, ph, salt (sodium), tablets
	// Sorbate for a volume.
	TopicSorbate = "sorbate_dose" // volume, unit
	// The nutrient steps.
	TopicNutrient = "nutrient_plan"
	// Sugar to sweeten to a taste or a gravity.
	TopicSweeten = "sweeten_to" // target_sg, grams_per_litre, with (honey)
	// A blend worked out; text has the parts.
	TopicBlend = "blend" // parts: []Part
	// Sugar for a sparkling wine.
	TopicPriming = "priming" // grams, bottles
	// How to top up.
	TopicTopUp = "top_up" // volume, unit, with (wine)
	// Bottles from a volume.
	TopicBottlesFrom = "bottles_from"
	// Carbon dioxide so far and now.
	TopicGas = "gas_now"
	// How sweet it is.
	TopicHowSweet = "how_sweet"
	// What went into it, and its allergens.
	TopicContents = "contents"
	// What would happen in a bottle closed today.
	TopicIfBottled = "if_bottled"
	// The curve as a picture, of several batches side by side.
	TopicGraph = "graph" // text
	// The record sheet.
	TopicSheet = "sheet" // text
	// Labels.
	TopicLabel = "label" // text
	// The book as a file.
	TopicExport = "export"
	// Bottles by batch.
	TopicBottles = "bottles"
	// The three things to type at this stage.
	TopicHelp = "help"
	// Advice on a fault.
	TopicHelpFault = "help_fault" // fault: a name of Complaint, or other
	// Whether a temperature is too high.
	TopicTooHot = "is_too_hot" // value, unit
	// Whether it is too low.
	TopicTooCold = "is_too_cold"
	// Who did it.
	TopicWho = "who" // deed
	// When it was done, how long ago.
	TopicWhenWas = "when_was" // deed
	// Whether something may go in now.
	TopicMayAdd = "may_add" // material
	// The newest temperature.
	TopicTemp = "temp_now"
	// How warm it should be kept.
	TopicTempWanted = "temp_wanted"
	// All settings.
	TopicSettings = "settings"
	// Units of the house.
	TopicSetUnits = "set_units" // units
	// Decimal mark of the answers and papers.
	TopicSetDecimal = "set_decimal" // mark: comma, point
	// Time zone of the house.
	TopicSetZone = "set_zone" // zone
	// The temperature the hydrometer is made for.
	TopicSetHydrometer = "set_hydrometer" // value, unit, instrument, all
	// Which hydrometer is the sender's own.
	TopicOwnHydrometer = "own_hydrometer" // instrument
	// By how much the thermometer reads too high.
	TopicSetThermometer = "set_thermometer" // value, unit, all
	// The gravity at which this batch is racked.
	TopicSetRack = "set_rack_point" // sg
	// The day of the primary check.
	TopicSetCheckDay = "set_check_day" // day
	// The start gravity that the kit's sheet asks for.
	TopicSetRange = "set_sheet_range" // low, high
	// Hours without reminders; of the two times one may be missing and stays.
	TopicSetQuiet = "set_quiet" // from, to (hours), or off
	// Language of the answers.
	TopicSetLanguage = "set_language" // language
	// The size of the house's bottles.
	TopicSetBottle = "set_bottle" // value, unit
	// Litres a year to watch.
	TopicSetYear = "set_year_limit" // value, unit
	// Which gallon a metric house means.
	TopicMalolactic   = "malolactic_wanted"
	TopicNoMalolactic = "no_malolactic"
	TopicDryEnough    = "dry_enough"
	TopicSetGallon    = "set_gallon" // gallon
	// A reminder of one's own.
	TopicRemind = "remind" // text, at (time.Time), day (bool)
	// No reminders: of one sort, all of a batch, all; until a day where one is named.
	TopicMute = "mute" // rule, all, named, until (time.Time)
	// Reminders again.
	TopicUnmute = "unmute" // the same
	// The last reminder later.
	TopicSnooze = "snooze" // at (time.Time), day
	// A holiday, and who minds the batches.
	TopicAway = "away" // from, to (first and last day), minder, pause, over
	// Who minds a batch.
	TopicMinder = "minder" // text
	// How the house is reminded.
	TopicReminders = "reminders"
	// When the day's message goes.
	TopicSetBundle = "set_bundle" // at
	// The weekly round-up.
	TopicSetRoundUp = "set_round_up" // off
	// Whether urgent reminders may break the quiet hours.
	TopicSetUrgent = "set_urgent" // off
	// The hours of stirring.
	TopicSetStir = "set_stir" // hours: []string
	// Whether minors read along.
	TopicSetMinors = "set_minors" // off
	// The interval of a reminder, for a batch or the house.
	TopicSetInterval = "set_interval" // rule, hours, house, named
	// What is said once and then not asked for again.
	TopicSetFlag = "set_flag" // flag, named
	// Sugar, honey or nutrient in steps.
	TopicSetSteps = "set_steps" // material, hours: []float64, count, amount, off
	// Hot weather.
	TopicHeat = "heat" // off
	// A tub of sulphite or sorbate opened.
	TopicTub = "tub_opened" // material, at, day
	// The batch meant from now on.
	TopicSwitch = "switch_batch"
	// A batch deleted by its name.
	TopicDelete = "delete_batch"
	// A deleted batch brought back.
	TopicRestore = "restore_batch"
	// Two batches made one.
	TopicMerge = "merge"
	// One batch made several.
	TopicSplit = "split"
	// A batch that holds no wine any more.
	TopicEmpty = "empty"
	// A closed batch opened again.
	TopicReopen = "reopen"
	// A batch begun like last year's, or like the one named.
	TopicLikeLast = "like_last_year" // text; of a begin: begin, name, like, volume, unit
	// Who is in the house.
	TopicMembers = "members"
	// A link to join.
	TopicInvite = "invite"
	// A link to an empty book.
	TopicNewHousehold = "new_household"
	// The book handed on.
	TopicMakeKeeper = "make_keeper" // text
	// The book emptied.
	TopicForget = "forget" // text
	// The reasons behind the last answer.
	TopicWhy = "why"
	// More of the last answer.
	TopicMore = "more"
	// The platform's greeting.
	TopicStart = "start" // text: the code behind it
	// A group admitted.
	TopicAdmit = "admit"
	// A picture of a stem: type the number.
	TopicPhoto = "photo_of_stem"
	// Meant to stay sweet.
	TopicMarkSweet = "mark_sweet"
	// Meant to be fizzy.
	TopicMarkFizzy = "mark_fizzy"
	// Dizzy, faint, carbon dioxide.
	TopicSafetyGas = "safety_gas"
	// Cleaners mixed, or on skin and eyes.
	TopicSafetyCleaner = "safety_cleaner"
	// Bottles bursting.
	TopicSafetyBottles = "safety_bottles"
	// Something swallowed.
	TopicSafetySwallow = "safety_swallowed"
	// Sulphite in the lungs.
	TopicSafetySulphite = "safety_sulphite"
	// A cut that bleeds.
	TopicSafetyCut = "safety_cut"
	// An electric shock.
	TopicSafetyShock = "safety_shock"
	// An animal that ate of it.
	TopicSafetyPet = "safety_pet"
	// Fire.
	TopicSafetyFire = "safety_fire"
	// A burn of something hot.
	TopicSafetyBurn = "safety_burn"
	// Glass, shot or mercury in the wine.
	TopicSafetyGlass = "safety_glass"
	// A vessel that works and cannot let its gas out.
	TopicSafetyPressure = "safety_pressure"
	// Wine in copper, zinc, lead glaze or a vessel not for food.
	TopicSafetyVessel = "safety_vessel"
	// The fear of methanol, and sight that fails.
	TopicSafetyMethanol = "safety_methanol"
)

// pattern points to a topic by words: every group must have one of its
// alternatives at the beginning of a word; a blank inside means words in a
// row.
type pattern struct {
	topic  string
	groups []string
}

// cutPattern is a pattern with its alternatives cut apart.
type cutPattern struct {
	topic  string
	groups []choices
}

var cutQuestions, cutCommands = cut(questions), cut(commands)

func cut(ps []pattern) (out []cutPattern) {
	for _, p := range ps {
		c := cutPattern{topic: p.topic}
		for _, g := range p.groups {
			c.groups = append(c.groups, anyOf(g))
		}
		out = append(out, c)
	}
	return out
}

// questions are tried in this order: the more particular first.
var questions = []pattern{
	{TopicSugarTo, []string{"sugar|zucker|sucre|azucar|zucchero|suiker|cukr|acucar|socker|sukker", "to get|to reach|to raise|to 1|up to|bring|reach|get it to|hit|for 1|auf 1|bis 1|um auf|pour 1|pour arriver|pour atteindre|a 1,|a 1.0|a 1.1|para 1|para llegar|para alcanzar|hasta 1|per arrivare|per 1|para chegar|para atingir|ate 1|naar 1|tot 1|om op|do 1,|do 1.|zeby|aby|na 1,|na 1.|til 1|till 1|jusqu|fino a"}},
	{TopicHoneyTo, []string{"honey|honig|miel|miele", "for 1|to get|to reach|to raise|to 1|up to|bring|reach|hit"}},
	{TopicHoneyTo, []string{"how much honey", "need|should|to add|put in|?"}},
	{TopicSugarTo, []string{"how much sugar", "need|should|to add|put in"}},
	{TopicWaterTo, []string{"how much water", "need|should|to add|put in|?"}},
	{TopicWaterTo, []string{"water|wasser", "to get|to reach|to lower|to 1|down to|bring|reach|dilut"}},
	{TopicSweeten, []string{"sweeten|back sweeten|backsweeten"}},
	{TopicPriming, []string{"fizz|bubbles|sparkle", "sugar|zucker|sucre", "how|much|need|for"}},
	{TopicPriming, []string{"priming|prime|sparkling|fizzy|carbonat|each of|in each|per bottle|a bottle|each bottle|every bottle|each", "sugar|how|much|make|g|bottle", "sugar|priming|prime|sparkling|fizzy|carbonat"}},
	{TopicMarkFizzy, []string{"meant fizzy|it's meant fizzy|its meant fizzy|make it fizzy"}},
	{TopicSorbate, []string{"sorbate", "how|much|need|dose|g|?|for"}},
	{TopicSulphite, []string{"sulphite|sulfite|so2|campden|metabi|schwefel|sulfit", "how|much|need|dose|many|do i|wie|molecular|should|ppm|to|for|?"}},
	{TopicNutrient, []string{"nutrient|dap|energiser|energizer|nahrsalz", "how|when|need|much|plan|schedule|do i|should|for|?"}},
	{TopicAcidDown, []string{"acid|acidity|ta", "lower|reduce|bring down|down to|acid down|less"}},
	{TopicAcidTo, []string{"acid|acidity|tartaric|citric|ta|ph", "acid to|acid up|acidity to|ta to|ph to|ph down|ph up|lower ph|lower the ph|raise the ph|how much|raise|to get|up to|need"}},
	{TopicBlend, []string{"blend|blending", "what|how|if|?|would|with"}},
	{TopicConvert, []string{"convert|in sg|to sg|in brix|to brix|in oechsle|to oechsle|in baume|to c|to f|in celsius|in fahrenheit|in plato|as sg|in kmw|as brix|in litres|in liters|in gallons|as gravity|in gravity"}},
	{TopicPotential, []string{"potential|potentiell"}},
	{TopicABV, []string{"how strong|strength|abv|alcohol|alkohol|alcool|alcol|alcoo|percent|vol %|how much %|wie stark|alko"}},
	{TopicSugarLeft, []string{"sugar left|sugar is left|sugar remains|residual sugar|much sugar|restzucker|sucre rest|how sugary"}},
	{TopicHowSweet, []string{"how sweet|how dry|sweetness"}},
	{TopicIfBottled, []string{"if i bottle|if bottled|if we bottle|bottle it now|bottled now|what happens if", "bottl"}},
	{TopicWhenWas, []string{"when did|when was|did i last|did we last|how long ago|how many days since|days since|how long since|how many weeks since", "rack|bottl|stabilis|stabiliz|pitch|stir|strain|press|fine|degas|top|read|add|sulphit|open|taste|move|blend|sweeten"}},
	{TopicWhenBottle, []string{"bottle it|bottle yet|can we bottle|can i bottle|when to bottle|ready to bottle|safe to bottle|bottling|bottle the|when can i bottle|when bottle|we bottle|i bottle|abfull|in flaschen|embotell|imbottigl|engarraf|mettre en bouteille|mise en bouteille|embouteill|bottelen|gebotteld|op fles|butelkow|rozla|lahvov|buteljer|pa flaske|bottle", "when|can|ready|safe|should|is|may|wann|kann|ok|quand|puis-je|peut-on|cuando|puedo|podemos|quando|posso|possiamo|podemos|wanneer|kan|mag|kiedy|czy|mozna|kdy|muzu|nar|far|kan"}},
	{TopicStabilise, []string{"stabilise|stabilize|stabilising|stabilizing|stablise", "can|may|when|ready|should|time|is|safe|ok|do|could"}},
	{TopicWhenRack, []string{"rack|racking|abziehen|umfull|abstechen|soutir|transvas|trasieg|traseg|trasfeg|travas|overhevel|oversteken|zlac|zlewac|obciag|stocit|stacet|pretocit|tappa om|omtapp|omstik|stikke om", "when|can|ready|should|time|is|low enough|wann|kann|may|quand|puis-je|peut-on|cuando|puedo|quando|posso|wanneer|kan|mag|kiedy|czy|mozna|kdy|muzu|nar|far"}},
	{TopicWho, []string{"what", "did i do|did we do|did i last do|have i done|have we done|thing i did|thing we did|i did last|we did last|was done|been done|did he do|did she do"}},
	{TopicWhy, []string{"why did you|why do you|why are you|why have you"}},
	{TopicWho, []string{"who|wer hat|wer war|qui a|quien|chi ha|wie heeft|kto|kdo|quem|vem har|hvem|did anyone|has anyone|did anybody|has anybody|did someone|did you|did we|have we|has someone"}},
	{TopicWhenWas, []string{"when did|has it been|have you|was it|how long since|when was|how long ago|since when|how old|how many days"}},
	{TopicBottles, []string{"bottles", "left|remain|still have|in stock"}},
	{TopicBottlesFrom, []string{"how many bottles|bottles will|bottles from|bottles can|bottles do"}},
	{TopicTopUp, []string{"top up|topping up|headspace", "how|what|should|can|much|with|?"}},
	{topicWhenReady, []string{"ready|drinkable|drink it|fit to drink|pret|fertig|pronto|listo|klaar|hotov|gotow|klar", "when|when's|whens|how long|is|will|how soon|wann|quand|cuando|quando|wanneer|kdy|kiedy|nar"}},
	{TopicWhenDry, []string{"expected|expect it|reach 1|get to 1|be at 1|be down to|hit 1|be at 0|reach 0", "when|when's|how long|how soon"}},
	{TopicWhenDry, []string{"how long|when will it be|when is it done|when will it finish|be dry|be finished|be done|how much longer|take|wie lange|wann fertig|when does it finish"}},
	{TopicIsStuck, []string{"stuck|stalled|is it dead|has it died|is the yeast dead|have i killed it|have we killed it|did i kill it|is it still alive|is it alive|stopped too early"}},
	{TopicIsStopped, []string{"is it done|is it finished|has it stopped|has it finished|stopped|finished|done yet|fertig|still fermenting|still working|over yet|is it over|dry yet|is it dry"}},
	{TopicHelpFault, []string{"slow|sluggish", "why"}},
	{TopicHelpFault, []string{"smell|stink|cloudy|hazy|haze|film|mould|mold|vinegar|eggs|foam|fizz|taste|bitter|brown|slimy|geranium|not working|not starting|not bubbling|no bubbles|riecht|stinkt|trub|overflow|pushed|cork|crystals|sour", "why|what|how|is|normal|help|should|can|warum|wieso"}},
	{TopicTooHot, []string{"too hot|too warm|too high a temp|zu warm|zu heiss|trop chaud"}},
	{TopicTooCold, []string{"too cold|too cool|zu kalt|trop froid"}},
	{TopicTempWanted, []string{"how warm|how cold|how cool|how hot|what temp|which temp|whats the temp|best temp|right temp|ideal temp|good temp|temperature", "should|ought|best|right|ideal|good|want|need|like|keep|must|supposed"}},
	{TopicTemp, []string{"temp", "what|whats|what's|which|how|?"}},
	{TopicDueWeek, []string{"this week|due this|week ahead|coming week|what's due|whats due|what is due"}},
	{TopicLast, []string{"last reading|last gravity|latest reading|last sg|last time|letzte messung"}},
	{TopicNext, []string{"que hago|que hacemos|que toca hacer|que hay que hacer|que debo hacer|que debemos hacer|que tengo que hacer|was mache ich|was machen wir|was tun|was ist zu tun|que faire|que fais-je|cosa faccio|cosa facciamo|cosa devo fare|que faco|que fazemos|wat doe ik|wat doen we|wat moet ik doen|co robic|co teraz robic|co teraz zrobic|co zrobic|vad gor jag|vad ska jag gora|co delat|co ted delat|next|the steps|what steps|which steps|what now|what should i do|what do i do|what to do|now what|was jetzt|und jetzt|when should i|nachste"}},
	{TopicGas, []string{"co2|carbon dioxide|gas"}},
	{TopicContents, []string{"what's in|whats in|what is in|contents|ingredients|allergen|went into"}},
	{TopicVolume, []string{"how much wine|how many litres|how many liters|volume|how much is there|how many gallons|how much is left|how much have"}},
	{TopicBottles, []string{"how many bottles|bottles left|bottles"}},
	{TopicMayAdd, []string{"can i add|should i add|may i add|do i need|should i put|can we add|is it ok to add|could i add|do we need|safe to add"}},
	{TopicGraph, []string{"graph|chart|curve|plot"}},
	{TopicSheet, []string{"sheet|pdf|record sheet"}},
	{TopicHistory, []string{"history|readings|log"}},
	{TopicList, []string{"list|batches|which batches|what's on|what do we have"}},
	{TopicWhy, []string{"why"}},
	{TopicConvert, []string{"what does|what is 1|whats 1|mean"}},
	{TopicStatus, []string{"how|status|doing|going on|news"}},
}

// commands are short texts that begin with these words and ask for
// something without being a question.
var commands = []pattern{
	{TopicABV, []string{"abv|alcohol|how strong"}},
	{TopicStatus, []string{"status|tell me about|how about|what about|stand|how is it|state|report|update me"}},
	{TopicNext, []string{"next|what next|next steps|what now|todo|steps|the steps|to do|to-do"}},
	{TopicDueWeek, []string{"this week|due|due this week|what's due"}},
	{TopicList, []string{"list|batches|all batches|list batches|show batches|my batches|show all|everything that's fermenting|everything thats fermenting|everything fermenting|everything on the go|everything we have|what we have|what's fermenting|whats fermenting|what is fermenting|what's on the go|list everything|all of them"}},
	{TopicHistory, []string{"list of readings|list of all readings|everything|everything so far|all so far|history|log|readings|all readings|show history|show readings|show log|last readings|last few readings|last couple of readings|latest readings|recent readings|last few gravities|last gravities"}},
	{TopicLast, []string{"last reading|last gravity|latest reading"}},
	{TopicPotential, []string{"potential"}},
	{TopicConvert, []string{"convert"}},
	{TopicSugarLeft, []string{"sugar left|residual sugar"}},
	{TopicGraph, []string{"graph|chart|curve|plot|show graph|show the graph|show me the graph|show chart|show me the chart|show me a graph|show the chart|compare"}},
	{TopicSheet, []string{"sheet|record sheet|pdf|batch sheet|print sheet|show sheet"}},
	{TopicLabel, []string{"label|labels|make label|make labels|print labels|print label"}},
	{TopicExport, []string{"export|csv|spreadsheet|excel"}},
	{TopicBottles, []string{"bottles|bottle count|cellar list|show bottles"}},
	{TopicHelp, []string{"help|hilfe|aide|ayuda|aiuto|ajuda|pomoc|hjalp|how does this work|how do i|what can you do"}},
	{TopicSettings, []string{"settings|einstellungen|show settings"}},
	{TopicMembers, []string{"members|who is in|who's in"}},
	{TopicInvite, []string{"invite"}},
	{TopicNewHousehold, []string{"new household"}},
	{TopicMakeKeeper, []string{"make"}},
	{TopicForget, []string{"forget everything|forget book|forget the book|forget all|forget"}},
	{TopicMute, []string{"mute|stop reminding|don't remind|dont remind|don't ping|dont ping|stop pinging|don't message|do not remind|stop reminders|no reminders|reminders off|no more reminders|turn off reminders|stop reminding|stop nagging|stop pestering|stop bugging|stop bothering|stop hassling|stop messaging|stop texting|stop telling|stop asking|stop going on about|stop chasing|stop prompting|stop pinging|stop poking|quit nagging|quit reminding|quit bugging|enough about|enough reminders|shut up about|leave me alone about|give it a rest about|no need to remind|pause|pause reminders|pause the reminders|rest|stop the reminders|stop these|be quiet|stay quiet|keep quiet|hush|shut up|no messages|no more messages|leave us in peace|leave me in peace|leave us alone|leave me alone|quiet until|quiet till"}},
	{TopicUnmute, []string{"unmute|reminders on|start reminders|turn on reminders|remind again"}},
	{TopicSnooze, []string{"snooze|later|remind me later|not now"}},
	{TopicRemind, []string{"remind|reminder|erinnere|rappelle|set a reminder|recuerdame|ricordami"}},
	{TopicAway, []string{"away|on holiday|going away|we are away|we're away|i am away|i'm away|holiday|not away|we are back|we're back|i'm back|back from holiday|back home"}},
	{TopicDelete, []string{"delete batch|delete the batch|remove batch|delete the|remove the batch|delete #"}},
	{TopicRestore, []string{"restore|undelete|bring back"}},
	{TopicMerge, []string{"merge"}},
	{TopicSplit, []string{"split"}},
	{TopicReopen, []string{"reopen|open again"}},
	{TopicLikeLast, []string{"same again|like last year|as last year|same as last year|same as|another like"}},
	{TopicPriming, []string{"prime|priming"}},
	{TopicBlend, []string{"blend"}},
	{TopicSweeten, []string{"sweeten to|sweeten it to"}},
	{TopicGas, []string{"gas now|co2"}},
	{TopicContents, []string{"contents|ingredients|allergens|what's in it"}},
	{TopicIfBottled, []string{"if i bottle now|if i bottle it now|if i bottle today|if i bottle it today|if we bottle now|if we bottle it now|if we bottle today|if we bottle it today|if bottled now|if bottled today|if i bottled it now|if i bottled now|what if i bottle now|what if i bottle it now|what if we bottle now|what if we bottle it now|if it is bottled now|if it's bottled now"}},
	{TopicStabilise, []string{"ready to stabilise|ready to stabilize|time to stabilise|time to stabilize"}},
	{TopicWhy, []string{"why"}},
	{TopicMore, []string{"more"}},
	{TopicNoMalolactic, []string{"no malolactic|malolactic no|malolactic unwanted|malolactic not wanted|no mlf|mlf no|mlf unwanted|without malolactic"}},
	{TopicMalolactic, []string{"malolactic wanted|malolactic yes|mlf wanted|mlf yes|with malolactic"}},
	{TopicDryEnough, []string{"dry enough"}},
	{TopicMarkSweet, []string{"meant sweet|meant to be sweet|it's meant sweet|its meant sweet|sweet on purpose|marked sweet|mark sweet"}},
	{TopicMarkFizzy, []string{"meant fizzy|it's meant fizzy|its meant fizzy|fizzy on purpose|meant to be fizzy"}},
	{TopicSwitch, []string{"use|switch to|switch|go to|select|activate"}},
	{TopicStart, []string{"start"}},
	{TopicSugarTo, []string{"sugar to"}},
	{TopicHoneyTo, []string{"honey to"}},
	{TopicWaterTo, []string{"water to"}},
	{TopicSulphite, []string{"sulphite dose|sulfite dose|sulphite for|sulfite for|so2 dose"}},
	{TopicSorbate, []string{"sorbate dose|sorbate for"}},
	{TopicNutrient, []string{"nutrient plan|nutrients plan"}},
	{TopicBottlesFrom, []string{"bottles from"}},
}
