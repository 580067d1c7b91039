package note

// Categories returns the product categories of the open repair data standard, in the order of its numbers.
func Categories() []string { return append([]string(nil), categories...) }

// Source: Open Repair Alliance, product categories of the Open Repair Data Standard.
var categories = []string{
	"Aircon/dehumidifier", "Battery/charger/adapter", "Decorative or safety lights", "Desktop computer",
	"Digital compact camera", "DSLR/video camera", "Fan", "Flat screen", "Hair & beauty item",
	"Handheld entertainment device", "Headphones", "Hi-Fi integrated", "Hi-Fi separates", "Kettle", "Lamp",
	"Laptop", "Large home electrical", "Misc", "Mobile", "Musical instrument", "Paper shredder", "PC accessory",
	"Portable radio", "Power tool", "Printer/scanner", "Projector", "Sewing machine", "Small home electrical",
	"Small kitchen item", "Tablet", "Toaster", "Toy", "TV and gaming-related accessories", "Vacuum",
	"Watch/clock", "Coffee maker", "Food processor", "Games console", "Hair dryer", "Iron",
}
