package cli

import "cmp"

// Global are the flags of every command.
type Global struct {
	JSON   bool   `name:"json"`
	Folder string `name:"folder"`
	Notes  string `name:"notes"`
	Case   string `name:"case" short:"c"`
	Who    string `name:"who"`
	Seen   int    `name:"seen"`
}

// with is g, and what is said in more goes before it.
func (g Global) with(more Global) Global {
	g.JSON = g.JSON || more.JSON
	g.Folder = cmp.Or(more.Folder, g.Folder)
	g.Notes = cmp.Or(more.Notes, g.Notes)
	g.Case = cmp.Or(more.Case, g.Case)
	g.Who = cmp.Or(more.Who, g.Who)
	g.Seen = cmp.Or(more.Seen, g.Seen)
	return g
}

// grammar is the command line. The order is that of the help.
type grammar struct {
	Global

	Bench benchCmd `cmd:"" name:"bench"`

	TakeIn   takeInCmd   `cmd:"" name:"take-in"`
	Say      sayCmd      `cmd:"" name:"say"`
	Notice   noticeCmd   `cmd:"" name:"notice"`
	Suspects suspectsCmd `cmd:"" name:"suspects"`
	Next     nextCmd     `cmd:"" name:"next"`
	Why      whyCmd      `cmd:"" name:"why"`
	WhatIf   whatIfCmd   `cmd:"" name:"what-if"`
	Rehearse rehearseCmd `cmd:"" name:"rehearse"`
	Map      mapCmd      `cmd:"" name:"map"`
	Check    checkCmd    `cmd:"" name:"check"`
	Measure  checkCmd    `cmd:"" name:"measure"`
	Opened   openedCmd   `cmd:"" name:"opened"`

	Board     boardCmd     `cmd:"" name:"board"`
	Steps     stepsCmd     `cmd:"" name:"steps"`
	Tick      tickCmd      `cmd:"" name:"tick"`
	Off       offCmd       `cmd:"" name:"off"`
	Back      backCmd      `cmd:"" name:"back"`
	Way       wayCmd       `cmd:"" name:"way"`
	Photo     photoCmd     `cmd:"" name:"photo"`
	Tag       tagCmd       `cmd:"" name:"tag"`
	Placement placementCmd `cmd:"" name:"placement"`
	PowerUp   powerCmd     `cmd:"" name:"power-up"`

	Repair  repairCmd  `cmd:"" name:"repair"`
	Test    testCmd    `cmd:"" name:"test"`
	Soak    soakCmd    `cmd:"" name:"soak"`
	Order   orderCmd   `cmd:"" name:"order"`
	Arrived arrivedCmd `cmd:"" name:"arrived"`
	Remark  remarkCmd  `cmd:"" name:"remark"`
	Undo    undoCmd    `cmd:"" name:"undo"`
	Correct correctCmd `cmd:"" name:"correct"`
	Close   closeCmd   `cmd:"" name:"close"`
	Reopen  reopenCmd  `cmd:"" name:"reopen"`

	Cases    casesCmd    `cmd:"" name:"cases"`
	Show     showCmd     `cmd:"" name:"show"`
	Find     findCmd     `cmd:"" name:"find"`
	Story    storyCmd    `cmd:"" name:"story"`
	Learnt   learntCmd   `cmd:"" name:"learnt"`
	Pack     packCmd     `cmd:"" name:"pack"`
	Unpack   unpackCmd   `cmd:"" name:"unpack"`
	OpenData openDataCmd `cmd:"" name:"open-data"`
	Settings settingsCmd `cmd:"" name:"settings"`
	Export   exportCmd   `cmd:"" name:"export"`

	Appraise appraiseCmd `cmd:"" name:"appraise"`
	Heat     heatCmd     `cmd:"" name:"heat"`
	Part     partCmd     `cmd:"" name:"part"`
	Shelf    shelfCmd    `cmd:"" name:"shelf"`
	Shopping shoppingCmd `cmd:"" name:"shopping"`
	Offers   offersCmd   `cmd:"" name:"offers"`
	Salvage  salvageCmd  `cmd:"" name:"salvage"`
	Devices  devicesCmd  `cmd:"" name:"devices"`
	Note     noteCmd     `cmd:"" name:"note"`
	Version  versionCmd  `cmd:"" name:"version"`
	Help     helpCmd     `cmd:"" name:"help"`

	chosen command `kong:"-"`
}

// noteCmd groups what one does with bench notes.
type noteCmd struct {
	Lint   noteLintCmd   `cmd:"" name:"lint"`
	List   noteListCmd   `cmd:"" name:"list"`
	Show   noteShowCmd   `cmd:"" name:"show"`
	Schema noteSchemaCmd `cmd:"" name:"schema"`

	Picture  notePictureCmd  `cmd:"" name:"picture"`
	Raises   noteRaisesCmd   `cmd:"" name:"raises"`
	Rehearse noteRehearseCmd `cmd:"" name:"rehearse"`
	Trials   noteTrialsCmd   `cmd:"" name:"trials"`
	Diff     noteDiffCmd     `cmd:"" name:"diff"`
	Assemble noteAssembleCmd `cmd:"" name:"assemble"`
}
