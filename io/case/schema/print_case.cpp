#include <fmt/format.h>

#include "io/case/case.hpp"
#include "io/case/key_path.hpp"
#include "io/case/schema/schema.hpp"
#include "io/case/schema/value.hpp"

namespace halftool::io {
namespace {

namespace fs = std::filesystem;

/// Forward slashes, relative where that is possible.
std::string relative_path(const std::string& path, const fs::path& folder) {
  const auto target = fs::absolute(path).lexically_normal();
  const auto relative = target.lexically_relative(fs::absolute(folder / ".").lexically_normal());
  return (relative.empty() ? target : relative).generic_string();
}

std::string key_line(const KeySpec& spec, const Case& complete, int index, const Value& value,
                     const fs::path& folder) {
  const auto name = leaf_of(spec.path);
  if (std::holds_alternative<std::monostate>(value)) return fmt::format("# {} is not set\n", name);
  const auto text = spec.kind == ValueKind::path
                        ? toml_text(relative_path(std::get<std::string>(value), folder))
                        : print_value(value, spec);
  const auto key = numbered(spec.path, index);
  const bool from_stock = complete.stock && complete.stock->filled.contains(key);
  return fmt::format("{} = {}{}\n", name, text,
                     complete.given.contains(key) ? "" : (from_stock ? "  # stock" : "  # default"));
}

std::string heading(const std::string& table) {
  if (table.empty()) return {};
  if (table.ends_with("[]")) return fmt::format("\n[[{}]]\n", table.substr(0, table.size() - 2));
  return fmt::format("\n[{}]\n", table);
}

}  // namespace

std::string print_sheet(const solver::SheetMaterial& material) {
  Case holder;
  holder.material = material;
  std::string text;
  std::string table;
  for (const auto& spec : schema().keys) {
    if (!is_within(spec.path, "sheet.material")) continue;
    const auto value = spec.access.get(holder, 0);
    if (!value || std::holds_alternative<std::monostate>(*value)) continue;
    if (parent_of(spec.path) != table) text += heading(table = parent_of(spec.path));
    text += fmt::format("{} = {}\n", leaf_of(spec.path), print_value(*value, spec));
  }
  return text.substr(1);  // the empty line above the first heading
}

std::string print_case(const Case& complete, const fs::path& folder) {
  const auto beside = folder.empty() ? complete.file.parent_path() : folder;
  const auto& keys = schema().keys;
  std::string text;
  for (size_t first = 0; first < keys.size();) {
    const auto table = parent_of(keys[first].path);
    size_t last = first;
    while (last < keys.size() && parent_of(keys[last].path) == table) ++last;
    const auto* list = schema().list_of(keys[first].path);
    const int n = list == nullptr ? 1 : static_cast<int>(list->size(complete));
    for (int i = 0; i < n; ++i) {
      std::string lines;
      for (size_t k = first; k < last; ++k)
        if (const auto value = keys[k].access.get(complete, i))
          lines += key_line(keys[k], complete, i, *value, beside);
      if (!lines.empty()) text += heading(table) + lines;
    }
    first = last;
  }
  return text;
}

}  // namespace halftool::io
