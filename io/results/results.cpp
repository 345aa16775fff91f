#include "io/results/results.hpp"

namespace halftool::io {

std::vector<std::string> write_results(const std::filesystem::path& folder, const ResultInput& input) {
  std::error_code trouble;
  std::filesystem::create_directories(folder, trouble);
  if (trouble) throw WriteError(folder, trouble.message());
  std::vector<std::string> written;
  if (input.formed != nullptr) {
    write_sheet(folder / "formed.vtu", *input.formed);
    written.emplace_back("formed.vtu");
  }
  if (input.released != nullptr) {
    std::vector<NodeVectors> extra;
    const solver::SheetFields* before = input.formed_trimmed ? input.formed_trimmed : input.formed;
    if (before != nullptr)
      extra.push_back({"springback [mm]", input.released->positions - before->positions});
    write_sheet(folder / "released.vtu", *input.released, extra);
    written.emplace_back("released.vtu");
  }
  if (input.tool != nullptr) {
    write_surface(folder / "tool.vtu", *input.tool);
    written.emplace_back("tool.vtu");
  }
  if (input.summary != nullptr) {
    write_summary(folder / "summary.json", *input.summary);
    written.emplace_back("summary.json");
  }
  return written;
}

}  // namespace halftool::io
