package mesh

// Stats describes the shape of a closed mesh.
type Stats struct {
	Vertices, Edges, Triangles int
	Components                 int     // pieces joined by edges
	Euler                      int     // vertices - edges + triangles
	Genus                      int     // handles, over all pieces
	Longest                    float64 // mm, the longest edge
}

// Stats counts. It makes sense for a mesh that passes Check.
func (m *Mesh) Stats() Stats {
	s := Stats{Vertices: len(m.V), Triangles: len(m.T), Edges: len(m.T) * 3 / 2}
	pieces := NewJoined(len(m.V))
	s.Components = len(m.V)
	for _, t := range m.T {
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			s.Longest = max(s.Longest, m.V[a].Dist(m.V[b]))
			if pieces.Join(a, b) {
				s.Components--
			}
		}
	}
	s.Euler = s.Vertices - s.Edges + s.Triangles
	s.Genus = s.Components - s.Euler/2
	return s
}
