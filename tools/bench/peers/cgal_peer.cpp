// CGAL from Debian's libcgal-dev, timed inside the process. Called as: cgal_peer measure FILE | deviation FILE FILE
#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Polygon_mesh_processing/IO/polygon_mesh_io.h>
#include <CGAL/Polygon_mesh_processing/bbox.h>
#include <CGAL/Polygon_mesh_processing/connected_components.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/boost/graph/helpers.h>
#include <sys/resource.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <string>

namespace PMP = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Simple_cartesian<double>;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;
using Primitive = CGAL::AABB_face_graph_triangle_primitive<Mesh>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>>;

static Mesh load(const char *path) {
  Mesh mesh;
  if (!PMP::IO::read_polygon_mesh(path, mesh)) std::exit(2);
  return mesh;
}

static double farthest(const Mesh &from, const Mesh &to) {
  Tree tree(faces(to).begin(), faces(to).end(), to);
  tree.accelerate_distance_queries();
  double most = 0;
  for (auto v : from.vertices()) most = std::max(most, tree.squared_distance(from.point(v)));
  return std::sqrt(most);
}

int main(int argc, char **argv) {
  if (argc < 3) return 2;
  const auto start = std::chrono::steady_clock::now();
  std::string answer;
  if (std::strcmp(argv[1], "measure") == 0) {
    Mesh mesh = load(argv[2]);
    const double area = PMP::area(mesh);
    const bool closed = CGAL::is_closed(mesh);
    const double volume = closed ? PMP::volume(mesh) : 0;
    const auto box = PMP::bbox(mesh);
    const auto center = closed ? PMP::centroid(mesh) : Kernel::Point_3(0, 0, 0);
    auto label = mesh.add_property_map<Mesh::Face_index, std::size_t>("f:shell", 0).first;
    const std::size_t shells = PMP::connected_components(mesh, label);
    answer = "{\"triangles\":" + std::to_string(num_faces(mesh)) + ",\"vertices\":" + std::to_string(num_vertices(mesh)) +
             ",\"edges\":" + std::to_string(num_edges(mesh)) + ",\"area\":" + std::to_string(area) +
             ",\"volume\":" + std::to_string(volume) + ",\"xmax\":" + std::to_string(box.xmax()) +
             ",\"center\":" + std::to_string(center.x()) + ",\"shells\":" + std::to_string(shells) + "}";
  } else {
    if (argc < 4) return 2;
    const Mesh a = load(argv[2]);
    const Mesh b = load(argv[3]);
    answer = "{\"max\":" + std::to_string(std::max(farthest(a, b), farthest(b, a))) + "}";
  }
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const double cpu = double(std::clock()) / CLOCKS_PER_SEC;
  rusage used;
  getrusage(RUSAGE_SELF, &used);
  std::printf("{\"seconds\":%.6f,\"cpu\":%.6f,\"peak\":%ld,\"answer\":%s}\n", seconds, cpu, used.ru_maxrss * 1024L, answer.c_str());
}
