#include "mesh/step_faults.hpp"

#include <Interface_Check.hxx>
#include <Interface_CheckIterator.hxx>
#include <STEPControl_Reader.hxx>
#include <StepBasic_NamedUnit.hxx>
#include <StepData_StepModel.hxx>
#include <StepGeom_GeomRepContextAndGlobUnitAssCtxAndGlobUncertaintyAssCtx.hxx>
#include <StepGeom_GeometricRepresentationContextAndGlobalUnitAssignedContext.hxx>
#include <StepGeom_GeometricRepresentationItem.hxx>
#include <StepRepr_ItemDefinedTransformation.hxx>
#include <StepShape_FaceBasedSurfaceModel.hxx>
#include <StepShape_ManifoldSolidBrep.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <StepShape_ShellBasedSurfaceModel.hxx>
#include <StepShape_TopologicalRepresentationItem.hxx>
#include <XSControl_WorkSession.hxx>
#include <cstdlib>
#include <fstream>
#include <map>
#include <optional>
#include <set>

namespace halftool::mesh {
namespace {

constexpr std::size_t most_of_entity = 70;  // letters of it in a message

/// Whether the shape depends on an entity. Names, colours, notes and dimensions may be what they are.
bool bears_shape(const Handle(Standard_Transient) & entity) {
  return entity->IsKind(STANDARD_TYPE(StepGeom_GeometricRepresentationItem)) ||
         entity->IsKind(STANDARD_TYPE(StepShape_TopologicalRepresentationItem)) ||
         entity->IsKind(STANDARD_TYPE(StepShape_ShapeRepresentation)) ||
         entity->IsKind(STANDARD_TYPE(StepRepr_ItemDefinedTransformation)) ||
         entity->IsKind(STANDARD_TYPE(StepBasic_NamedUnit)) ||
         entity->IsKind(STANDARD_TYPE(StepGeom_GeometricRepresentationContextAndGlobalUnitAssignedContext)) ||
         entity->IsKind(STANDARD_TYPE(StepGeom_GeomRepContextAndGlobUnitAssCtxAndGlobUncertaintyAssCtx));
}

/// "Parameter n0.2 (location) : not a Real" as "parameter 2 (location): not a Real".
std::string tidied(std::string words) {
  const auto replace = [&](const std::string& from, const std::string& to) {
    if (const std::size_t at = words.find(from); at != std::string::npos) words.replace(at, from.size(), to);
  };
  replace("Parameter n0.", "parameter ");
  replace(") :", "):");
  return words;
}

/// The first fault of an entity that is no matter of its name; nothing where there is none.
std::optional<std::string> fault_of(const Interface_Check& check) {
  for (int i = 1; i <= check.NbFails(); ++i) {
    const std::string words = check.CFail(i);
    if (words.find("(name)") == std::string::npos && words.find("uncertainty") == std::string::npos)
      return tidied(words);
  }
  return std::nullopt;
}

/// Where an entity stands in the file, and how it begins there.
std::string find_entity(const std::string& path, int number) {
  const std::string label = "#" + std::to_string(number);
  std::ifstream file(path);
  std::string line;
  for (int n = 1; std::getline(file, line); ++n) {
    const std::size_t start = line.find_first_not_of(" \t");
    if (start == std::string::npos || line.compare(start, label.size(), label) != 0) continue;
    const std::size_t next = line.find_first_not_of(" \t", start + label.size());
    if (next == std::string::npos || line[next] != '=') continue;
    line.erase(line.find_last_not_of(" \t\r;") + 1);
    return "line " + std::to_string(n) + ", " + line.substr(start, most_of_entity);
  }
  return "entity " + label;
}

using Model = Handle(StepData_StepModel);

int number_after(const std::string& words, const std::string& mark) {
  const std::size_t at = words.find(mark);
  return at == std::string::npos ? 0 : std::atoi(words.c_str() + at + mark.size());
}

/// Numbers in the file of the entities that the shape depends on.
std::set<int> numbers_of_shape(const Model& model) {
  std::set<int> numbers;
  for (int i = 1; i <= model->NbEntities(); ++i)
    if (bears_shape(model->Value(i))) numbers.insert(model->IdentLabel(model->Value(i)));
  return numbers;
}

/// References to entities that the file lacks, which the reader tells of the file as a whole ("Unresolved
/// Reference, Ent.Id.#11 Param.n0 2 (Id.#12)"), by the number of the entity that refers.
std::map<int, std::string> find_loose_references(const Interface_Check& check, const std::set<int>& numbers) {
  std::map<int, std::string> faults;
  for (int i = 1; i <= check.NbFails(); ++i) {
    const std::string words = check.CFail(i);
    const int from = number_after(words, "Ent.Id.#"), to = number_after(words, "(Id.#");
    if (to > 0 && numbers.contains(from))
      faults.try_emplace(from, "it refers to #" + std::to_string(to) + ", which is not in the file");
  }
  return faults;
}

/// Faults of the entities that the shape depends on, by their number in the file.
std::map<int, std::string> find_faults(STEPControl_Reader& reader, const Model& model) {
  const std::set<int> numbers = numbers_of_shape(model);
  std::map<int, std::string> faults;
  Interface_CheckIterator checks = reader.WS()->ModelCheckList();
  for (checks.Start(); checks.More(); checks.Next()) {
    if (checks.Number() < 1 || checks.Number() > model->NbEntities()) {
      faults.merge(find_loose_references(*checks.Value(), numbers));
      continue;
    }
    const int number = model->IdentLabel(model->Value(checks.Number()));
    const auto fault = fault_of(*checks.Value());
    if (fault && numbers.contains(number)) faults.try_emplace(number, *fault);
  }
  return faults;
}

}  // namespace

StepLook look_at_step(const std::string& path) {
  StepLook look;
  STEPControl_Reader reader;
  if (reader.ReadFile(path.c_str()) != IFSelect_RetDone) return look;
  const Model model = Model::DownCast(reader.WS()->Model());
  if (model.IsNull()) return look;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const Handle(Standard_Transient) entity = model->Value(i);
    if (entity->IsKind(STANDARD_TYPE(StepShape_ManifoldSolidBrep))) ++look.n_solids;
    if (entity->IsKind(STANDARD_TYPE(StepShape_ShellBasedSurfaceModel)) ||
        entity->IsKind(STANDARD_TYPE(StepShape_FaceBasedSurfaceModel)))
      ++look.n_surfaces;
  }
  const auto faults = find_faults(reader, model);
  if (faults.empty()) return look;
  look.damage = find_entity(path, faults.begin()->first) + ": " + faults.begin()->second;
  if (faults.size() > 1)
    look.damage += " (and " + std::to_string(faults.size() - 1) + " more of its entities)";
  return look;
}

}  // namespace halftool::mesh
