package parse

// What is set is told with these words: those that end in Set begin such a text, the others
// are looked for in it.
var (
	unitsNamed  = anyOf("units|unit|metric|imperial|litres|liters|celsius|centigrade|fahrenheit|us gallons")
	unitsSet    = anyOf("units|set units|unit|us units|uk units|metric units|imperial units|litres|liters|celsius|fahrenheit|use|please use|switch to|change to|change units|set|we use|we only use|i use|always use|show|let's use|answer in|work in|go")
	decimalSet  = anyOf("decimal comma|decimal point|set decimal comma|set decimal point")
	rackNamed   = anyOf("rack at|rack point|racking point|rack below")
	rackSet     = anyOf("rack at|rack below")
	checkDaySet = anyOf("check day|check on day|kit says day|sheet says day|kit says check day|sheet says check day|primary check day|primary check on day")
	sheetSays   = anyOf("sheet says|kit says|sheet range|sheet asks|kit asks")
	quietSet    = anyOf("quiet hours|quiet|set quiet hours")
	languageSet = anyOf("language|sprache|lang|set language|langue")
	bottleSet   = anyOf("bottle size|bottles are|bottle is|our bottles are|my bottles are")
	limitSet    = anyOf("year limit|limit|yearly limit|set year limit|set limit")
	gallonSet   = anyOf("gallon|gallons|my gallon|our gallons|gallons are|gallon is")
	gallonNamed = anyOf("gallon|gallons")
	gallonMeant = anyOf("use|please use|switch to|change to|change|switch|please change|please switch|set|we use|we mean|i mean|i use|let's use|make it|count in|work in|ours are|from now on|always use")
)
