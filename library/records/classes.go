package records

import "slices"

// classes are the cause classes in the order in which tables list them.
var classes = []string{
	"power lead/plug",
	"fuse",
	"switch/button",
	"thermal fuse/thermostat",
	"electrolytic capacitor",
	"semiconductor/IC",
	"solder joint",
	"connector/contact",
	"battery/charging",
	"motor/brushes",
	"belt/gear/mechanical",
	"heating element",
	"display/backlight",
	"wiring break",
	"dirt/blockage/lubrication",
	"sensor",
	"firmware/software",
	"board/other",
	"user error",
}

// Classes returns the 19 cause classes in table order. The caller owns the slice.
func Classes() []string { return slices.Clone(classes) }

// groups joins categories whose devices are built alike and therefore fail
// alike. A category with few records leans on its group before it leans on the
// whole. The grouping is our own judgement.
var groups = [][]string{
	{"Aircon/dehumidifier", "Coffee maker", "Fan", "Hair dryer", "Iron", "Kettle", "Small kitchen item", "Toaster"},
	{"Food processor", "Large home electrical", "Paper shredder", "Power tool", "Sewing machine", "Vacuum"},
	{"Flat screen", "Headphones", "Hi-Fi integrated", "Hi-Fi separates", "Musical instrument", "Portable radio", "Projector", "TV and gaming-related accessories"},
	{"Desktop computer", "Games console", "Laptop", "Mobile", "PC accessory", "Printer/scanner", "Tablet"},
	{"DSLR/video camera", "Digital compact camera", "Handheld entertainment device"},
	{"Decorative or safety lights", "Lamp"},
	{"Battery/charger/adapter", "Hair & beauty item", "Misc", "Small home electrical", "Toy", "Watch/clock"},
}
