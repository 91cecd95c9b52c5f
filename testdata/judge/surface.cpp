// surface FILE.stl: what an independent geometry library says of a mesh, as one
// JSON line. Exit status 0 when it could be judged, 2 when it could not be read.
//
// Vertices are joined only where their coordinates are equal, bit for bit.
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/connected_components.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Polygon_mesh_processing/shape_predicates.h>
#include <CGAL/Surface_mesh.h>
#include <cstdio>
#include <iostream>
#include <vector>

namespace PMP = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

int main(int argc, char** argv) {
  std::vector<Kernel::Point_3> points;
  std::vector<std::vector<std::size_t>> triangles;
  if (argc != 2 || !CGAL::IO::read_STL(argv[1], points, triangles) || triangles.empty()) {
    std::cerr << "surface: cannot read " << (argc > 1 ? argv[1] : "nothing") << "\n";
    return 2;
  }
  PMP::merge_duplicate_points_in_polygon_soup(points, triangles);
  std::size_t degenerate = 0;
  for (const auto& t : triangles)
    if (CGAL::collinear(points[t[0]], points[t[1]], points[t[2]])) degenerate++;
  // A soup whose triangles disagree in direction, or share an edge or a vertex
  // more than a manifold can, is no mesh.
  bool manifold = PMP::is_polygon_soup_a_polygon_mesh(triangles);
  bool closed = false, outward = false;
  std::size_t crossings = 0, components = 0;
  double volume = 0, area = 0;
  long euler = 0;
  if (manifold) {
    Mesh m;
    PMP::polygon_soup_to_polygon_mesh(points, triangles, m);
    closed = CGAL::is_closed(m);
    std::vector<std::pair<Mesh::Face_index, Mesh::Face_index>> pairs;
    PMP::self_intersections(m, std::back_inserter(pairs));
    crossings = pairs.size();
    auto component = m.add_property_map<Mesh::Face_index, std::size_t>("f:component", 0).first;
    components = PMP::connected_components(m, component);
    area = PMP::area(m);
    euler = long(m.number_of_vertices()) - long(m.number_of_edges()) + long(m.number_of_faces());
    if (closed) {
      volume = PMP::volume(m);
      // Of several components each may be a body or a void within one.
      outward = crossings == 0 && PMP::does_bound_a_volume(m) && volume > 0;
    }
  }
  std::printf(
      "{\"triangles\":%zu,\"vertices\":%zu,\"manifold\":%s,\"closed\":%s,\"outward\":%s,\"crossings\":%zu,"
      "\"degenerate\":%zu,\"components\":%zu,\"euler\":%ld,\"volume\":%.9g,\"area\":%.9g}\n",
      triangles.size(), points.size(), manifold ? "true" : "false", closed ? "true" : "false",
      outward ? "true" : "false", crossings, degenerate, components, euler, volume, area);
  return 0;
}
