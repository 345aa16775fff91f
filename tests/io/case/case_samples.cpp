#include "tests/io/case/case_samples.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>

#include "io/case/key_path.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io::samples {

const char* const bracket = R"(
case = 1
title = "Bracket \"one\""
[sheet]
thickness = "1.6 mm"
rolling = "30 deg"
[sheet.material]
name = "demo sheet"
source = "invented"
grade = "guessed"
youngs_modulus = "69 GPa"
poissons_ratio = 0.33
swift = { strength = "205 MPa", pre_strain = 0.0014, exponent = "20 %" }
[blank]
rectangle = ["190 mm", "60 mm"]
corner_radius = "4 mm"
rim = "free"
[[blank.hole]]
at = ["30 mm", "0 mm"]
diameter = "8 mm"
[[blank.hole]]
at = ["-30 mm", "0 mm"]
diameter = "5 mm"
[tool]
kind = "block"
tray_floor = true
material = "invented alloy"
allowed_stress = "200 MPa"
[tool.block]
length = "150 mm"
width = "60 mm"
height = "35 mm"
edge_radius = "3 mm"
wall_angle = "88.7 deg"
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = [["0 %", "0 psi"], ["60 %", "1500 psi"], ["100 %", "14500 psi"]]
[diaphragm]
smallest_radius = "12 mm"
[symmetry]
planes = ["y"]
[limits]
thinning = "20 %"
forming_limit = "none"
hole_expansion = "60 %"
bend_strain = 0.2
[effort]
detail = "quick"
threads = 2
[outputs]
pictures = false
series = false
[[trim]]
polygon = [["-30 mm", "-30 mm"], ["30 mm", "-30 mm"], ["30 mm", "30 mm"], ["-30 mm", "30 mm"]]
)";

namespace {

constexpr const char* wrap_in_inches = R"(
title = "wrap"
[sheet]
thickness = "0.063 in"
material = { name = "demo", source = "invented", grade = "handbook typical", youngs_modulus = "30000 ksi", poissons_ratio = 0.3, r_values = [1.8, "150 %", 2.3], voce = { initial = "30 ksi", saturation = "60 ksi", rate = 12.5 } }
[blank]
polygon = [["-3 in", "-1 in"], ["3 in", "-1 in"], ["3.5 in", "0 in"], ["3 in", "1.1 in"], ["-3 in", "1 in"]]
corner_radii = ["100 thou"]
place = ["0.1 in", "-2.54 mm"]
turn = "0.1 rad"
[tool]
kind = "block"
cylinder = { radius = "1.5 in", width = "1.7 in", height = "2 in" }
[lubrication.tool_side]
mu = "8 %"
[[step]]
pressure = "8000 psi"
[limits]
forming_limit = "estimate"
[method]
elements_per_bend = 7.5
coarsest = "0.25 in"
uniform = "0 mm"
growth = 0.3
facet_angle = "4 deg"
layers = 9
normal_stress = false
edges_loaded = false
penetration_share = 0.0005
slip_share = 0.003
pressure_growth = 0.15
largest_motion = "2 mm"
tolerance = 1e-4
most_iterations = 30
enriched_membrane = false
viscosity = "1e-5 MPa/mm"
)";

constexpr const char* of_stock = R"(
[limits]
edge_stretch = "12 %"
bend_ratio = 2.5
[sheet]
thickness = "1 mm"
material = { stock = "AA6061-O", hollomon = { exponent = 0.21 } }
[sheet.forming_limit]
points = [[-0.2, 0.42], [0, "28 %"], [0.25, 0.36]]
strain = "engineering"
source = "invented"
grade = "guessed"
thickness = "1 mm"
[[sheet.other]]
name = "thin"
thickness = "0.8 mm"
stock = "DP600"
hardening = "isotropic"
[scatter]
thickness = "0.05 mm"
strength = "6 %"
exponent = "10 %"
friction = "20 %"
design = "half"
[blank]
rectangle = ["50 mm", "8 mm"]
edge = "milled"
[tool]
kind = "block"
block = { length = "30 mm", width = "8 mm", height = "15 mm", edge_radius = "3 mm" }
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = "60 MPa"
)";

constexpr const char* bulge = R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 } }
forming_limit = { file = "limit.csv", strain = "true", source = "invented" }
[blank]
circle = { diameter = "180 mm" }
rim = "held"
[tool]
kind = "cavity"
cavity = { opening_diameter = "120 mm", entry_radius = "6 mm", depth = "50 mm", outer_diameter = "200 mm" }
[lubrication]
tool_side = { mu = 0.12 }
[[step]]
pressure = "12 MPa"
[symmetry]
planes = ["x", "y"]
)";

constexpr const char* flange_from_step = R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, hollomon = { strength = "530 MPa", exponent = 0.26, initial = "210 MPa" }, backstress = [[400, "20 GPa"], [30, "3000 MPa"]], falling_modulus = { saturated = "163 GPa", rate = 61 }, hardening = "isotropic", strain_rate = { press = "0.1 /s", test = "0.001 /s", exponent = 0.012 }, yld2000 = { exponent = 6, alpha = [0.97, "98 %", 0.99, 1.01, 1, 1.02, 0.96, 1.03] } }
[blank]
circle = { diameter = "180 mm" }
[tool]
kind = "block"
step = "tool.step"
place = ["1 mm", "0 mm", "-5 mm"]
turn = "90 deg"
[lubrication]
tool_side = { mu = 0.12 }
[[step]]
pressure = "100 MPa"
)";

constexpr const char* drawn = R"(
[sheet.forming_limit]
computed = { imperfection = 0.004, normal_pressure = "30 MPa" }
[limits]
hole_stretch = "8 %"
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, ludwik = { initial = "120 MPa", strength = "300 MPa", exponent = 0.45 }, strain_rate = { exponent = 0.012 }, yld2000_fit = { exponent = 8, yield_ratios = [1, 0.98, 0.96, 1.03], r_values = [0.8, 0.5, 0.6, 1.1] } }
[blank]
drawing = "blank.dxf"
layer = "cut"
length_unit = "mm"
hole_edge = "sheared"
[[blank.hole]]
at = ["20 mm", "5 mm"]
diameter = "8 mm"
[[blank.pin]]
at = ["20 mm", "5 mm"]
diameter = "7.8 mm"
[tool]
kind = "block"
cylinder = { radius = "20 mm", width = "30 mm", height = "40 mm" }
[lubrication]
tool_side = { mu = 0.12 }
[[step]]
pressure = "100 MPa"
)";

constexpr const char* blank_from_step = R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift_voce = { swift_share = "30 %", strength = "530 MPa", pre_strain = 0.01, exponent = 0.26, initial = "140 MPa", saturation = "330 MPa", rate = 12.4 } }
[blank]
step = "blank.step"
[tool]
kind = "block"
cylinder = { radius = "20 mm", width = "30 mm", height = "40 mm" }
[lubrication]
tool_side = { mu = 0.12 }
[[step]]
pressure = "100 MPa"
)";

constexpr const char* flange_from_stl = R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, flow_curve = [["0 %", "30 ksi"], [0.015, "32 ksi"], [0.2, "54000 psi"], [0.35, "54500 psi"]] }
[blank]
circle = { diameter = "180 mm" }
[tool]
kind = "block"
stl = "tool.stl"
length_unit = "cm"
press_axis = "-y"
[lubrication]
tool_side = { mu = 0.12 }
[[step]]
pressure = "100 MPa"
)";

constexpr const char* two_steps = R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, yoshida_uemori = { yield = "337 MPa", bound = "620 MPa", bound_shift = "202 MPa", bound_gain = "190 MPa", bound_rate = 34, approach = 500, stagnation = 0.772 } }
[blank]
circle = { diameter = "80 mm" }
[tool]
kind = "block"
cylinder = { radius = "20 mm", width = "90 mm", height = "40 mm" }
[[tool.insert]]
name = "heel"
step = "tool.step"
place = ["1 mm", "0 mm", "-5 mm"]
last_step = "draw"
[lubrication]
tool_side = { mu = 0.12 }
[[lubrication.zone]]
name = "film"
mu = 0.05
polygon = [["0 mm", "0 mm"], ["20 mm", "0 mm"], ["0 mm", "20 mm"]]
[[step]]
name = "draw"
pressure = "20 MPa"
[[step]]
name = "fold"
pressure = "100 MPa"
[limits]
edge_stretch = "20 %"
trim_stretch = "15 %"
[[trim]]
after_step = "fold"
drawing = "line.dxf"
layer = "cut"
length_unit = "mm"
keep = "outside"
along = "y"
when = "before release"
)";

/// A tool half 10 units long, enough of one to have a size.
constexpr const char* one_facet =
    "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 10 0 0\nvertex 0 5 "
    "0\nendloop\nendfacet\nendsolid\n";

/// Copies a file of the project into a folder, once.
void put_beside(const std::string& file, const std::filesystem::path& folder, std::string name = "") {
  namespace fs = std::filesystem;
  if (name.empty()) name = fs::path(file).filename().string();
  if (fs::exists(folder / name)) return;
  fs::copy_file(fs::path(HALFTOOL_SOURCE_DIR) / file, folder / name);
}

/// Writes a text into a folder, once.
void put_text(const std::string& text, const std::filesystem::path& file) {
  if (!std::filesystem::exists(file)) std::ofstream(file) << text;
}

std::string heading(const std::string& table) {
  return table.ends_with("[]") ? "[[" + table.substr(0, table.size() - 2) + "]]" : "[" + table + "]";
}

}  // namespace

std::vector<std::string> all() {
  return {bracket,         wrap_in_inches, bulge,    flange_from_step, drawn,
          blank_from_step, two_steps,      of_stock, flange_from_stl};
}

Case parse(const std::string& text) {
  static const halftool::test::ScratchFolder scratch;
  const std::filesystem::path& folder = scratch.path();
  put_text("", folder / "tool.step");
  put_beside("tests/io/case/drawings/blank.dxf", folder);
  put_beside("tests/io/case/drawings/blank.dxf", folder, "line.dxf");
  put_beside("cases/curved_flange/block.step", folder, "blank.step");
  put_text("minor strain [%]; major strain [%]\n-20; 42\n0; 28\n25; 36,5\n", folder / "limit.csv");
  put_text(one_facet, folder / "tool.stl");
  return parse_case(text, folder / "case.toml");
}

std::string with_value(const std::string& printed, const std::string& key, const std::string& value) {
  const auto table = parent_of(key);
  const auto start = leaf_of(key) + " = ";
  std::istringstream lines(printed);
  std::string line;
  std::string changed;
  bool in_table = table.empty();
  bool found = false;
  while (std::getline(lines, line)) {
    if (line.starts_with("[")) in_table = line == heading(table);
    const bool here = in_table && !found && line.starts_with(start);
    changed += (here ? start + value : line) + '\n';
    found = found || here;
  }
  return found ? changed : "";
}

}  // namespace halftool::io::samples
