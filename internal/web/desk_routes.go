package web

// deskRoutes are the pages for whoever writes notes.
func (s *Server) deskRoutes() []route {
	return []route{
		{"GET /notes/{note}/picture.svg", s.notePicture},
		{"POST /notes/{note}/rehearse", s.noteRehearse},
		{"POST /notes/again", s.notesAgain},

		{"GET /write", s.writeForm},
		{"POST /write", s.writeNote},
		{"POST /write/look", s.writeLook},
		{"GET /assemble", s.assembleForm},
		{"POST /assemble", s.assemble},

		{"GET /blocks", s.blockList},
		{"GET /blocks/{block}", s.blockRead},
	}
}
