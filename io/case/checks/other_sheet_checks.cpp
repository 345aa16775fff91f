#include <fmt/format.h>

#include <set>

#include "io/case/checks/case_checks.hpp"

namespace halftool::io {
namespace {

std::string hardening_of(const solver::SheetMaterial& material) {
  return solver::hardens_kinematically(material) ? "kinematic" : "isotropic";
}

}  // namespace

void check_other_sheets(const CheckedCase& c) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < c.values.other_sheets.size(); ++i) {
    const OtherSheet& other = c.values.other_sheets[i];
    const std::string table = fmt::format("sheet.other[{}]", i + 1);
    if (!c.sound({table})) continue;
    if (!other.thickness && other.stock.empty() && other.hardening.empty())
      c.error(table, "neither thickness nor stock nor hardening", "at least one of them",
              "add what differs from [sheet]");
    if (!other.thickness && other.stock.empty() && other.hardening == hardening_of(c.values.material))
      c.error(table + ".hardening", other.hardening, "the other kind: the case's sheet hardens so already",
              "add what differs from [sheet]");
    if (!other.name.empty() && !names.insert(other.name).second)
      c.error(table + ".name", fmt::format("\"{}\" again", other.name), "each name once",
              "choose another name");
  }
}

}  // namespace halftool::io
