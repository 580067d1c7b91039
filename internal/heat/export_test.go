package heat

// Materials returns the table of thermal properties used by the model.
func Materials() []Material { return append([]Material(nil), materials[:]...) }
