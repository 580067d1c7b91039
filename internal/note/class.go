package note

// The classes of cause. Their order is the one in which ties are shown.
const (
	ClassPowerLead  Class = "power lead/plug"
	ClassFuse       Class = "fuse"
	ClassSwitch     Class = "switch/button"
	ClassThermal    Class = "thermal fuse/thermostat"
	ClassElcap      Class = "electrolytic capacitor"
	ClassSemi       Class = "semiconductor/IC"
	ClassJoint      Class = "solder joint"
	ClassConnector  Class = "connector/contact"
	ClassBattery    Class = "battery/charging"
	ClassMotor      Class = "motor/brushes"
	ClassMechanical Class = "belt/gear/mechanical"
	ClassHeater     Class = "heating element"
	ClassDisplay    Class = "display/backlight"
	ClassWiring     Class = "wiring break"
	ClassDirt       Class = "dirt/blockage/lubrication"
	ClassSensor     Class = "sensor"
	ClassSoftware   Class = "firmware/software"
	ClassBoard      Class = "board/other"
	ClassUser       Class = "user error"
)

// Classes returns every class in its fixed order.
func Classes() []Class {
	return []Class{
		ClassPowerLead, ClassFuse, ClassSwitch, ClassThermal, ClassElcap, ClassSemi, ClassJoint,
		ClassConnector, ClassBattery, ClassMotor, ClassMechanical, ClassHeater, ClassDisplay,
		ClassWiring, ClassDirt, ClassSensor, ClassSoftware, ClassBoard, ClassUser,
	}
}
