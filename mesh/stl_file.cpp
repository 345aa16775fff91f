#include "mesh/stl_file.hpp"

#include <algorithm>
#include <bit>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string_view>
#include <vector>

namespace halftool::mesh {
namespace {

static_assert(std::endian::native == std::endian::little, "binary STL is little-endian");
constexpr std::size_t head_bytes = 84;   // 80 of text and the number of facets
constexpr std::size_t facet_bytes = 50;  // normal and three corners in single precision, two attribute bytes

std::string bytes_of(const std::string& path) {
  std::error_code code;
  if (!std::filesystem::is_regular_file(path, code)) {
    throw MeshError("there is no STL file '" + path + "'; give the path of an existing .stl file");
  }
  std::ifstream file(path, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  if (!file && !file.eof())
    throw MeshError("the STL file '" + path + "' cannot be read; check its permissions");
  return bytes;
}

std::size_t facets_announced(const std::string& bytes) {
  std::uint32_t n = 0;
  std::memcpy(&n, bytes.data() + head_bytes - sizeof n, sizeof n);
  return n;
}

std::vector<double> binary_corners(const std::string& bytes, const std::string& path) {
  const std::size_t n = facets_announced(bytes);
  std::vector<double> corners;
  corners.reserve(9 * n);
  for (std::size_t t = 0; t < n; ++t) {
    float values[9];
    std::memcpy(values, bytes.data() + head_bytes + facet_bytes * t + 3 * sizeof(float), sizeof values);
    for (const float value : values) {
      if (!std::isfinite(value)) {
        throw MeshError("facet " + std::to_string(t) + " of '" + path +
                        "' has a corner that is no place; export the tool half again");
      }
      corners.push_back(value);
    }
  }
  return corners;
}

/// Words of one line of the text form, in lower case.
std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> words;
  std::string word;
  for (const char letter : line) {
    const auto byte = static_cast<unsigned char>(letter);
    if (std::isspace(byte) == 0) {
      word += static_cast<char>(std::tolower(byte));
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

/// The text form, line by line.
class TextReader {
 public:
  TextReader(std::string_view text, std::string path) : text_(text), path_(std::move(path)) {}

  std::vector<double> read() {
    while (!text_.empty()) take(next_line());
    if (in_facet_) refuse("the file ends within a facet", "export it again, it is cut off");
    return std::move(corners_);
  }

 private:
  std::vector<std::string> next_line() {
    const std::size_t end = std::min(text_.find('\n'), text_.size());
    const auto words = words_of(text_.substr(0, end));
    text_.remove_prefix(std::min(end + 1, text_.size()));
    ++line_;
    return words;
  }

  void take(const std::vector<std::string>& words) {
    if (words.empty() || words[0] == "solid" || words[0] == "outer" || words[0] == "endloop") return;
    if (words[0] == "facet") {
      if (in_facet_) refuse("a facet begins within another", "export the tool half again");
      in_facet_ = true;
      first_ = corners_.size();
    } else if (words[0] == "vertex") {
      if (!in_facet_ || words.size() != 4) refuse("three coordinates in a facet are needed", mend);
      for (std::size_t i = 1; i < 4; ++i) corners_.push_back(number(words[i]));
    } else if (words[0] == "endfacet") {
      if (!in_facet_ || corners_.size() - first_ != 9) refuse("a facet needs three corners", mend);
      in_facet_ = false;
    } else if (words[0] != "endsolid") {
      refuse("'" + words[0].substr(0, 20) + "' is no word of STL", mend);
    }
  }

  [[nodiscard]] double number(const std::string& word) const {
    const char* first = word.data() + (word[0] == '+' ? 1 : 0);
    const char* last = word.data() + word.size();
    double value = 0;
    const auto [end, error] = std::from_chars(first, last, value);
    if (error != std::errc() || end != last || !std::isfinite(value)) {
      refuse("'" + word.substr(0, 20) + "' is no coordinate", "write decimal numbers with a point");
    }
    return value;
  }

  [[noreturn]] void refuse(const std::string& what, const std::string& advice) const {
    throw MeshError("line " + std::to_string(line_) + " of '" + path_ + "': " + what + "; " + advice);
  }

  static constexpr const char* mend = "export the tool half again, as binary STL";
  std::string_view text_;
  std::string path_;
  std::vector<double> corners_;
  std::size_t first_ = 0;
  int line_ = 0;
  bool in_facet_ = false;
};

bool is_text(const std::string& bytes) {
  const auto begin = bytes.find_first_not_of(" \t\r\n");
  if (begin == std::string::npos) return false;
  const auto words = words_of(std::string_view(bytes).substr(begin, 6));
  return !words.empty() && words[0] == "solid" && bytes.find('\0') == std::string::npos;
}

std::vector<double> corners_in(const std::string& bytes, const std::string& path) {
  const bool has_head = bytes.size() >= head_bytes;
  if (has_head && bytes.size() == head_bytes + facet_bytes * facets_announced(bytes)) {
    return binary_corners(bytes, path);
  }
  if (is_text(bytes)) return TextReader(bytes, path).read();
  std::string reason = "'" + path + "' is no STL file: it does not begin with the word solid, and its " +
                       std::to_string(bytes.size()) + " bytes ";
  reason += has_head ? "are not the " + std::to_string(head_bytes + facet_bytes * facets_announced(bytes)) +
                           " of a binary file of " + std::to_string(facets_announced(bytes)) + " facets"
                     : "are too few for a binary file";
  throw MeshError(reason + "; it may be cut off, export the tool half again");
}

}  // namespace

SurfaceMesh read_stl(const std::string& path, double scale) {
  const std::string bytes = bytes_of(path);
  const std::vector<double> corners = corners_in(bytes, path);
  if (corners.empty()) throw MeshError("'" + path + "' holds no facets; export the tool half again");
  SurfaceMesh mesh;
  const auto n_nodes = static_cast<Eigen::Index>(corners.size() / 3);
  mesh.nodes = scale * Eigen::Map<const Points>(corners.data(), n_nodes, 3);
  mesh.triangles.resize(n_nodes / 3, 3);
  for (Eigen::Index i = 0; i < n_nodes; ++i) mesh.triangles.data()[i] = static_cast<int>(i);
  return mesh;
}

}  // namespace halftool::mesh
