package faults

import "partsaloft/inventory/strict"

// seriesFaults are of a file that holds the time series of a flight, and remarks on what was read of it.
var seriesFaults = map[strict.Code]string{
	"series.empty":   ": the file is empty",
	"series.no_rows": ": {lines:line|lines} were read and none holds two numbers or more; export the flight as CSV",
	"series.utf16":   ": the file is not UTF-8 text (UTF-16?); save it as CSV in UTF-8",
	"series.binary":  ": this is no text; export the flight as CSV first",
	"series.long_line": ": the line is longer than {most} MiB; one row of values stands on one line; check how the file " +
		"was exported",
	"series.few_rows": ": {rows:row|rows} of values read; a flight takes at least 20",
	"series.bad_rows": ": {bad} of {rows} rows cannot be read, this one is the first; each needs its {fields} values and a " +
		"time",
	"series.comma_twice": ": {headings} headings, but {fields} values: commas part both columns and decimals; export with " +
		"semicolons, or with decimal points",
	"series.no_time": ": no column of time was found; name it with --column time=HEADING, or give the rows a second with " +
		"--rate-hz; columns are {columns}",
	"series.no_columns": ": no column holds volts, amps, throttle or rpm; name them with --column volts=HEADING; columns " +
		"are {columns}",
	"series.no_such_column": ": {quantity} was said to be in column {got}, but there is none; columns are {columns}",
	"series.unit":           ": {quantity} cannot be in {got}; known units are {units}",
	"series.not_numbers":    ": column {column} holds {got} instead of a number, as do most of its rows",
	"series.other_headings": ": other headings than in line {line} begin here; split the file at this line",
	"series.time_stands":    ": column {column} is taken for time but does not rise; name another with --column time=HEADING",
	"series.time_unit": ": the unit of time cannot be told from column {column} (a mean step of {got}); name it, such as " +
		"--column \"time={column} [ms]\"",
	"series.too_slow": ": the rows are {got} s apart on average; a flight needs {slowest} a second at least; name the " +
		"unit of time if it is another, such as --column \"time={column} [ms]\"",
	"series.too_short": ": the whole file lasts {got} s, a flight at least {shortest}; name the unit of time if it is " +
		"another, such as --column \"time={column} [ms]\"",
	"series.restarts": ": time in column {column} jumps back {n} times and more; name another with --column time=HEADING",
	"series.no_flight": ": no flight was found: nothing in the file stays well over its idle level for 3 seconds; check " +
		"the columns with --column",
	"series.column_form": ": {got} must be QUANTITY=HEADING, such as volts=Vbat; quantities are {quantities}",

	"series.dead_column":   ": column {column} ({quantity}) holds one value all along and is not used",
	"series.odd_range":     ": column {column} is not used: its values of {low} to {high} are no {quantity} in any unit",
	"series.needs_poles":   ": column {column} holds electrical rpm; give the number of magnets with --poles to read rpm from it",
	"series.likely_erpm":   ": column {column} reaches {high} rpm, which looks electrical; if so, give --poles",
	"series.other_flights": ": the longest flight in the file was taken; {n:other recording|other recordings} also hold one",
	"series.charge_differs": ": the file counts {column} mAh used, its current adds up to {integral} mAh; check the " +
		"calibration of the current sensor",
}
