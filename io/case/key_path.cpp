#include "io/case/key_path.hpp"

#include <fmt/format.h>

#include <charconv>

namespace halftool::io {

std::string numbered(const std::string& path, int index) {
  const auto brackets = path.find("[]");
  if (brackets == std::string::npos) return path;
  return fmt::format("{}[{}]{}", path.substr(0, brackets), index + 1, path.substr(brackets + 2));
}

std::string parent_of(const std::string& path) {
  const auto point = path.rfind('.');
  return point == std::string::npos ? "" : path.substr(0, point);
}

std::string leaf_of(const std::string& path) {
  const auto point = path.rfind('.');
  return point == std::string::npos ? path : path.substr(point + 1);
}

const Node* node_at(const Node& root, std::string_view numbered_path) {
  const Node* node = &root;
  while (!numbered_path.empty() && node != nullptr) {
    const auto point = numbered_path.find('.');
    auto step = numbered_path.substr(0, point);
    numbered_path = point == std::string_view::npos ? std::string_view{} : numbered_path.substr(point + 1);
    size_t index = 0;
    const auto bracket = step.find('[');
    if (bracket != std::string_view::npos)
      std::from_chars(step.data() + bracket + 1, step.data() + step.size(), index);
    node = node->find(step.substr(0, bracket));
    if (node == nullptr || bracket == std::string_view::npos) continue;
    node = index >= 1 && index <= node->items.size() ? &node->items[index - 1] : nullptr;
  }
  return node;
}

bool is_within(std::string_view path, std::string_view ancestor) {
  if (!path.starts_with(ancestor)) return false;
  return path.size() == ancestor.size() || path[ancestor.size()] == '.' || path[ancestor.size()] == '[';
}

}  // namespace halftool::io
