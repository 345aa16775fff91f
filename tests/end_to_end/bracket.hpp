#pragma once
#include <string>

namespace halftool::test {

/// A narrow strip of the straight-flange bracket on a coarse mesh, as a case file.
/// @param pressure  with its unit
/// @param more      further tables, TOML
inline std::string bracket(const std::string& pressure, const std::string& more = "") {
  return R"(
[sheet]
thickness = "1.6 mm"
[sheet.material]
name = "aluminium 6061-O"
source = "as in cases/straight_flange"
grade = "handbook typical"
youngs_modulus = "69 GPa"
poissons_ratio = 0.33
swift = { strength = "205 MPa", pre_strain = 0.00139, exponent = 0.20 }
[blank]
rectangle = ["92 mm", "10 mm"]
[tool]
kind = "block"
block = { length = "60 mm", width = "10 mm", height = "35 mm", edge_radius = "3 mm" }
[lubrication.tool_side]
mu = 0.10
[symmetry]
planes = ["x", "y"]
[effort]
detail = "quick"
threads = 1
[[step]]
pressure = ")" +
         pressure + "\"\n" + more;
}

/// No forming limit is judged: the built-in one is a formula for steel and would be warned about.
inline constexpr const char* no_forming_limit = "[limits]\nforming_limit = \"none\"\n";

}  // namespace halftool::test
