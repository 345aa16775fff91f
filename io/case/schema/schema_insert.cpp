#include <numbers>

#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

/// A member of the STEP shape of an insert.
template <class T>
Access insert_shape(T mesh::StepShape::*member) {
  return {[member](const Case& c, int i) -> std::optional<Value> {
            return std::get<mesh::StepShape>(c.inserts.at(static_cast<size_t>(i)).shape).*member;
          },
          [member](Case& c, int i, const Value& value) {
            std::get<mesh::StepShape>(c.inserts.at(static_cast<size_t>(i)).shape).*member =
                std::get<T>(value);
          }};
}

Access insert_place() {
  return {[](const Case& c, int i) -> std::optional<Value> {
            const auto& at =
                std::get<mesh::StepShape>(c.inserts.at(static_cast<size_t>(i)).shape).placement.place;
            return std::vector<double>{at.x(), at.y(), at.z()};
          },
          [](Case& c, int i, const Value& value) {
            const auto& at = std::get<std::vector<double>>(value);
            std::get<mesh::StepShape>(c.inserts.at(static_cast<size_t>(i)).shape).placement.place = {
                at[0], at[1], at[2]};
          }};
}

}  // namespace

void add_insert_keys(Schema& s) {
  s.lists.push_back({"tool.insert", 0, 20, [](const Case& c) { return c.inserts.size(); },
                     [](Case& c, size_t n) { c.inserts.resize(n); }});
  s.keys.insert(
      s.keys.end(),
      {{.path = "tool.insert[].name",
        .kind = ValueKind::text,
        .required = true,
        .about = "of a part that stands with the tool half and may be taken out between steps",
        .access = in_list(&Case::inserts, &ToolInsert::name)},
       {.path = "tool.insert[].step",
        .kind = ValueKind::path,
        .required = true,
        .about = "STEP file of the insert, in the tool's frame; the path is relative to the case file",
        .access = insert_shape(&mesh::StepShape::path)},
       {.path = "tool.insert[].place",
        .kind = ValueKind::lengths,
        .unit = "mm",
        .hard = {-1e4, 1e4},
        .n_items = 3,
        .about = "shift of the insert's origin",
        .access = insert_place()},
       {.path = "tool.insert[].last_step",
        .kind = ValueKind::text,
        .about = "name of the last step in which it stands; not given: it stays",
        .access = in_list(&Case::inserts, &ToolInsert::last_step)}});
}

}  // namespace halftool::io
