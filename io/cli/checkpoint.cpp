#include "io/cli/checkpoint.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cereal/archives/binary.hpp>
#include <cereal/types/array.hpp>
#include <cereal/types/string.hpp>
#include <cereal/types/vector.hpp>
#include <fstream>
#include <sstream>
#include <system_error>
#include <utility>

#include "io/cli/run_folder.hpp"
#include "io/results/write_file.hpp"

// Eigen's matrices as their sizes and numbers.
namespace cereal {

template <class Archive, class Scalar, int Rows, int Cols, int Options, int MaxRows, int MaxCols>
void save(Archive& archive, const Eigen::Matrix<Scalar, Rows, Cols, Options, MaxRows, MaxCols>& matrix) {
  if (Rows == Eigen::Dynamic) archive(static_cast<std::int64_t>(matrix.rows()));
  if (Cols == Eigen::Dynamic) archive(static_cast<std::int64_t>(matrix.cols()));
  archive(binary_data(matrix.data(), static_cast<std::size_t>(matrix.size()) * sizeof(Scalar)));
}

template <class Archive, class Scalar, int Rows, int Cols, int Options, int MaxRows, int MaxCols>
void load(Archive& archive, Eigen::Matrix<Scalar, Rows, Cols, Options, MaxRows, MaxCols>& matrix) {
  std::int64_t rows = Rows, cols = Cols;
  if (Rows == Eigen::Dynamic) archive(rows);
  if (Cols == Eigen::Dynamic) archive(cols);
  matrix.resize(rows, cols);
  archive(binary_data(matrix.data(), static_cast<std::size_t>(matrix.size()) * sizeof(Scalar)));
}

}  // namespace cereal

namespace halftool::io {
namespace {

// Raised whenever a member is added to what is written, so that an older file is refused and not misread.
constexpr int kLayout = 3;
const std::string kMark = "halftool checkpoint " HALFTOOL_VERSION;

// A name that is given to bytes still under way would be all that a power failure leaves.
bool reaches_the_disk(const std::filesystem::path& file) {
  const int descriptor = open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor < 0) return false;
  const bool done = fsync(descriptor) == 0;
  close(descriptor);
  return done;
}

// The lines of a case without comments and threads, each behind its table, so that a line tells which key it
// is.
std::vector<std::string> telling_lines(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  std::string table;
  for (std::string line; std::getline(in, line);) {
    line.erase(std::min(line.find(" #"), line.size()));
    line.erase(line.find_last_not_of(' ') + 1);
    if (line.empty() || line.front() == '#' || line.rfind("threads", 0) == 0) continue;
    if (line.front() == '[')
      table = line;
    else
      lines.push_back(fmt::format("{} {}", table, line));
  }
  return lines;
}

std::string first_difference(const std::string& then, const std::string& now) {
  const std::vector<std::string> a = telling_lines(then), b = telling_lines(now);
  const auto [in_a, in_b] = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
  if (in_a == a.end() && in_b == b.end()) return "";
  const std::string nothing = "(nothing)";
  return fmt::format("\n    then  {}\n    now   {}", in_a == a.end() ? nothing : *in_a,
                     in_b == b.end() ? nothing : *in_b);
}

bool same(const mesh::SurfaceMesh& a, const mesh::SurfaceMesh& b) {
  return a.nodes.rows() == b.nodes.rows() && a.triangles.rows() == b.triangles.rows() && a.nodes == b.nodes &&
         a.triangles == b.triangles;
}

}  // namespace

void write_checkpoint(const std::filesystem::path& file, const CheckpointTerms& terms,
                      const JobProgress& progress, const PressJournal& journal,
                      const solver::PressingState& pressing) {
  std::filesystem::path part = file;
  part += ".part";
  try {
    std::ofstream out(part, std::ios::binary);
    cereal::BinaryOutputArchive archive(out);
    archive(kMark, kLayout, terms.case_text, *terms.blank, terms.tools.size());
    for (const mesh::SurfaceMesh* tool : terms.tools) archive(*tool);
    archive(progress, journal, pressing);
    out.close();
    if (!out || !reaches_the_disk(part)) throw cereal::Exception("the disk refuses it");
    std::filesystem::rename(part, file);
  } catch (const std::exception& error) {
    std::error_code trouble;
    std::filesystem::remove(part, trouble);
    throw WriteError(file, error.what());
  }
}

struct CheckpointReader::Stream {
  explicit Stream(const std::filesystem::path& file) : in(file, std::ios::binary), archive(in) {}
  std::ifstream in;
  cereal::BinaryInputArchive archive;
};

template <class... Members>
void CheckpointReader::take(Members&... members) {
  try {
    stream_->archive(members...);
  } catch (const std::exception& error) {
    throw FolderError(file_.string() + " is damaged (" + error.what() + "); press anew without --resume");
  }
}

CheckpointReader::CheckpointReader(const std::filesystem::path& file, const CheckpointTerms& terms)
    : file_(file), stream_(std::make_unique<Stream>(file)) {
  std::string mark, case_text;
  int layout = 0;
  take(mark, layout);
  if (mark != kMark || layout != kLayout)
    throw FolderError(file.string() + " was written by another version; press anew without --resume");
  take(case_text);
  const std::string difference = first_difference(case_text, terms.case_text);
  if (!difference.empty())
    throw FolderError("the case has changed since the run was broken off: " + difference +
                      "\n    put it back, or press anew without --resume");
  mesh::SurfaceMesh then;
  take(then);
  bool alike = same(then, *terms.blank);
  std::size_t n_tools = 0;
  take(n_tools);
  alike = alike && n_tools == terms.tools.size();
  for (std::size_t i = 0; alike && i < n_tools; ++i) {
    take(then);
    alike = same(then, *terms.tools[i]);
  }
  if (!alike)
    throw FolderError(
        "the tool half or the blank is another than when the run was broken off: a file that the case names "
        "has changed, or the mesher; put it back, or press anew without --resume");
}

CheckpointReader::~CheckpointReader() = default;

JobProgress CheckpointReader::progress() {
  JobProgress progress;
  take(progress);
  return progress;
}

void CheckpointReader::read(PressJournal& journal, solver::PressingState& pressing) {
  take(journal, pressing);
}

}  // namespace halftool::io
