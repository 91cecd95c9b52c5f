// field IN.stl CELL OFFSET OUT.stl: a mesh to a sampled distance field and back
// (OpenVDB), moved out by OFFSET. Prints seconds, peak memory and triangles.
#include <openvdb/openvdb.h>
#include <openvdb/tools/MeshToVolume.h>
#include <openvdb/tools/VolumeToMesh.h>
#include <sys/resource.h>

#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>
#include <map>
#include <tuple>
#include <vector>

using openvdb::Vec3I;
using openvdb::Vec3s;
using openvdb::Vec4I;

// readSTL joins vertices whose coordinates are equal.
static bool readSTL(const char* path, std::vector<Vec3s>& points, std::vector<Vec3I>& triangles) {
  std::ifstream in(path, std::ios::binary);
  std::vector<char> data((std::istreambuf_iterator<char>(in)), {});
  if (data.size() < 84) return false;
  std::uint32_t n;
  std::memcpy(&n, &data[80], 4);
  if (data.size() != 84 + 50ull * n) return false;
  std::map<std::tuple<float, float, float>, std::uint32_t> seen;
  for (std::uint32_t i = 0; i < n; i++) {
    Vec3I t;
    for (int k = 0; k < 3; k++) {
      float v[3];
      std::memcpy(v, &data[84 + 50ull * i + 12 + 12 * k], 12);
      auto [at, fresh] = seen.try_emplace({v[0], v[1], v[2]}, std::uint32_t(points.size()));
      if (fresh) points.emplace_back(v[0], v[1], v[2]);
      t[k] = at->second;
    }
    triangles.push_back(t);
  }
  return true;
}

static void writeSTL(const char* path, const std::vector<Vec3s>& points, const std::vector<Vec3I>& triangles) {
  std::vector<char> data(84 + 50ull * triangles.size());
  std::uint32_t n = std::uint32_t(triangles.size());
  std::memcpy(&data[80], &n, 4);
  for (std::size_t i = 0; i < triangles.size(); i++)
    for (int k = 0; k < 3; k++) std::memcpy(&data[84 + 50 * i + 12 + 12 * k], points[triangles[i][k]].asPointer(), 12);
  std::ofstream(path, std::ios::binary).write(data.data(), std::streamsize(data.size()));
}

static double processor(const rusage& r) {
  auto s = [](timeval t) { return double(t.tv_sec) + 1e-6 * double(t.tv_usec); };
  return s(r.ru_utime) + s(r.ru_stime);
}

int main(int argc, char** argv) {
  if (argc != 5) return std::fprintf(stderr, "field IN.stl CELL OFFSET OUT.stl\n"), 2;
  const double cell = std::atof(argv[2]), offset = std::atof(argv[3]);
  std::vector<Vec3s> points;
  std::vector<Vec3I> triangles;
  if (!readSTL(argv[1], points, triangles)) return std::fprintf(stderr, "field: cannot read %s\n", argv[1]), 2;
  openvdb::initialize();

  rusage before, after;
  getrusage(RUSAGE_SELF, &before);
  auto start = std::chrono::steady_clock::now();
  auto grid = openvdb::math::Transform::createLinearTransform(cell);
  // The band is just as wide as the offset asks for.
  const float out = 3 + float(std::fmax(0, offset) / cell), in = 3 + float(std::fmax(0, -offset) / cell);
  std::vector<Vec3s> lattice;
  for (const auto& p : points) lattice.push_back(Vec3s(grid->worldToIndex(p)));
  openvdb::tools::QuadAndTriangleDataAdapter<Vec3s, Vec3I> mesh(lattice, triangles);
  auto field = openvdb::tools::meshToVolume<openvdb::FloatGrid>(mesh, *grid, out, in);
  std::vector<Vec3s> corners;
  std::vector<Vec3I> faces;
  std::vector<Vec4I> quads;
  openvdb::tools::volumeToMesh(*field, corners, faces, quads, offset);
  // OpenVDB turns faces inwards: the order is turned round.
  for (auto& f : faces) std::swap(f[0], f[2]);
  for (const auto& q : quads) {
    faces.emplace_back(q[2], q[1], q[0]);
    faces.emplace_back(q[3], q[2], q[0]);
  }
  std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;
  getrusage(RUSAGE_SELF, &after);
  std::printf("{\"what\":\"field of %s, %g mm, offset %g\",\"seconds\":%.3f,\"cpu\":%.3f,\"megabytes\":%.1f,\"triangles\":%zu}\n", argv[1], cell, offset,
              seconds.count(), processor(after) - processor(before), double(after.ru_maxrss) / 1024, faces.size());
  writeSTL(argv[4], corners, faces);
  return 0;
}
