#include "io/figures/scene.hpp"

#include <vtkActor.h>
#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkDoubleArray.h>
#include <vtkFeatureEdges.h>
#include <vtkFloatArray.h>
#include <vtkImageData.h>
#include <vtkLight.h>
#include <vtkLookupTable.h>
#include <vtkNew.h>
#include <vtkPlane.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkPolyDataNormals.h>
#include <vtkProperty.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkTexture.h>
#include <vtkUnsignedCharArray.h>

#include <algorithm>

namespace halftool::io {
namespace {

constexpr int oversampling = 2;  ///< each way; averaged down, so that edges are smooth on any driver

vtkSmartPointer<vtkPolyData> to_polydata(const Surface& surface) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  points->SetNumberOfPoints(surface.points.rows());
  for (Eigen::Index n = 0; n < surface.points.rows(); ++n)
    points->SetPoint(n, surface.points(n, 0), surface.points(n, 1), surface.points(n, 2));
  vtkNew<vtkCellArray> cells;
  for (Eigen::Index t = 0; t < surface.triangles.rows(); ++t) {
    const vtkIdType corners[3] = {surface.triangles(t, 0), surface.triangles(t, 1), surface.triangles(t, 2)};
    cells->InsertNextCell(3, corners);
  }
  auto data = vtkSmartPointer<vtkPolyData>::New();
  data->SetPoints(points);
  data->SetPolys(cells);
  if (surface.shares.size() > 0) {
    vtkNew<vtkDoubleArray> shares;
    shares->SetNumberOfTuples(surface.shares.size());
    for (Eigen::Index n = 0; n < surface.shares.size(); ++n) shares->SetValue(n, surface.shares(n));
    data->GetPointData()->SetScalars(shares);
  }
  return data;
}

/// Texture coordinates in picture pixels, one repeat of the hatch every `period` pixels.
void add_hatch_coordinates(vtkPolyData* data, const Surface& surface, const Camera& camera, double period) {
  vtkNew<vtkFloatArray> places;
  places->SetNumberOfComponents(2);
  places->SetNumberOfTuples(surface.points.rows());
  for (Eigen::Index n = 0; n < surface.points.rows(); ++n) {
    const Eigen::Vector2d px = camera.project(surface.points.row(n)) / period;
    places->SetTypedComponent(n, 0, static_cast<float>(px.x()));
    places->SetTypedComponent(n, 1, static_cast<float>(px.y()));
  }
  data->GetPointData()->SetTCoords(places);
}

/// A square tile with both diagonals drawn: repeated, a cross hatch.
vtkSmartPointer<vtkTexture> hatch_texture() {
  constexpr int size = 64;
  vtkNew<vtkImageData> tile;
  tile->SetDimensions(size, size, 1);
  tile->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
  for (int y = 0; y < size; ++y)
    for (int x = 0; x < size; ++x) {
      const int rising = std::min((x - y + size) % size, (y - x + size) % size);
      const int falling = std::min((x + y) % size, (2 * size - x - y) % size);
      const Rgb& colour = std::min(rising, falling) <= 6 ? over_hatch_colour : over_colour;
      auto* pixel = static_cast<unsigned char*>(tile->GetScalarPointer(x, y, 0));
      pixel[0] = static_cast<unsigned char>(255 * colour.r);
      pixel[1] = static_cast<unsigned char>(255 * colour.g);
      pixel[2] = static_cast<unsigned char>(255 * colour.b);
    }
  auto texture = vtkSmartPointer<vtkTexture>::New();
  texture->SetInputData(tile);
  texture->RepeatOn();
  texture->InterpolateOn();
  texture->MipmapOn();
  return texture;
}

vtkSmartPointer<vtkLookupTable> ramp_table() {
  auto table = vtkSmartPointer<vtkLookupTable>::New();
  table->SetNumberOfTableValues(256);
  table->SetRange(0, 1);
  for (int i = 0; i < 256; ++i) {
    const Rgb colour = ramp_colour(i / 255.0);
    table->SetTableValue(i, colour.r, colour.g, colour.b, 1);
  }
  table->SetNanColor(no_value.r, no_value.g, no_value.b, 1);
  return table;
}

void clip_to(vtkMapper* mapper, const Eigen::AlignedBox3d& box) {
  if (box.isEmpty()) return;
  for (int axis = 0; axis < 3; ++axis)
    for (const double side : {1.0, -1.0}) {
      Eigen::Vector3d normal = Eigen::Vector3d::Zero();
      normal(axis) = side;
      const Eigen::Vector3d origin = side > 0 ? box.min() : box.max();
      vtkNew<vtkPlane> plane;
      plane->SetOrigin(origin.data());
      plane->SetNormal(normal.data());
      mapper->AddClippingPlane(plane);
    }
}

void add_faces(vtkRenderer* renderer, const Surface& surface, const Camera& camera) {
  vtkNew<vtkPolyDataNormals> normals;
  const auto data = to_polydata(surface);
  if (surface.hatched) add_hatch_coordinates(data, surface, camera, 14);
  normals->SetInputData(data);
  normals->SetFeatureAngle(35);
  normals->ConsistencyOff();
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputConnection(normals->GetOutputPort());
  mapper->SetScalarVisibility(surface.shares.size() > 0);
  mapper->SetLookupTable(ramp_table());
  mapper->UseLookupTableScalarRangeOn();
  mapper->InterpolateScalarsBeforeMappingOn();
  mapper->SetResolveCoincidentTopologyToPolygonOffset();
  clip_to(mapper, surface.clip);
  vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  vtkProperty* property = actor->GetProperty();
  property->SetColor(surface.colour.r, surface.colour.g, surface.colour.b);
  property->SetOpacity(surface.opacity);
  property->SetInterpolationToPhong();
  // A field is shaded little, so that its colours can be read off; a bare surface more, to show its shape.
  const bool field = surface.shares.size() > 0;
  // Ambient and diffuse parts add to one, for a face that is turned to the lamp to have its true colour.
  const double ambient = !surface.lit || surface.hatched ? 1.0 : field ? 0.71 : 0.52;
  property->SetAmbient(ambient);
  property->SetDiffuse(1 - ambient);
  if (!surface.lit || surface.hatched) property->LightingOff();
  if (surface.hatched) {
    property->SetColor(1, 1, 1);
    actor->SetTexture(hatch_texture());
  }
  renderer->AddActor(actor);
}

void add_edges(vtkRenderer* renderer, const Surface& surface) {
  vtkNew<vtkFeatureEdges> edges;
  edges->SetInputData(to_polydata(surface));
  edges->SetFeatureAngle(35);
  edges->ColoringOff();
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputConnection(edges->GetOutputPort());
  mapper->ScalarVisibilityOff();
  clip_to(mapper, surface.clip);
  vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  actor->GetProperty()->SetColor(surface.edge_colour.r, surface.edge_colour.g, surface.edge_colour.b);
  actor->GetProperty()->SetLineWidth(static_cast<float>(surface.edge_width * oversampling));
  actor->GetProperty()->LightingOff();
  renderer->AddActor(actor);
}

void set_camera(vtkRenderer* renderer, const Camera& camera) {
  vtkCamera* view = renderer->GetActiveCamera();
  view->ParallelProjectionOn();
  view->SetFocalPoint(camera.centre.data());
  const double away = 2.0 * camera.mm_per_px * (camera.width + camera.height);
  const Eigen::Vector3d eye = camera.centre + away * camera.to_eye();
  view->SetPosition(eye.data());
  view->SetViewUp(camera.up.data());
  view->SetParallelScale(0.5 * camera.height * camera.mm_per_px);
  renderer->ResetCameraClippingRange();
}

/// One lamp beside the eye, up to the left, so that faces of different slope differ.
void add_lamp(vtkRenderer* renderer) {
  renderer->AutomaticLightCreationOff();
  vtkNew<vtkLight> lamp;
  lamp->SetLightTypeToCameraLight();
  lamp->SetPosition(-0.30, 0.60, 1.0);
  lamp->SetFocalPoint(0, 0, 0);
  renderer->AddLight(lamp);
}

/// Averages blocks of oversampling x oversampling pixels and turns the rows top down.
Image average_down(vtkUnsignedCharArray* pixels, int width, int height) {
  Image image{width, height, std::vector<std::uint8_t>(3 * static_cast<std::size_t>(width) * height)};
  const unsigned char* from = pixels->GetPointer(0);
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      for (int c = 0; c < 3; ++c) {
        int sum = 0;
        for (int dy = 0; dy < oversampling; ++dy)
          for (int dx = 0; dx < oversampling; ++dx) {
            const std::size_t row = static_cast<std::size_t>(height - 1 - y) * oversampling + dy;
            const std::size_t column = static_cast<std::size_t>(x) * oversampling + dx;
            sum += from[3 * (row * width * oversampling + column) + c];
          }
        constexpr int count = oversampling * oversampling;
        image.rgb[3 * (static_cast<std::size_t>(y) * width + x) + c] =
            static_cast<std::uint8_t>((sum + count / 2) / count);
      }
  return image;
}

}  // namespace

Image render(const Display& display, const std::vector<Surface>& surfaces, const Camera& camera) {
  if (!display.available()) throw std::logic_error("render: there is no display");
  vtkNew<vtkRenderer> renderer;
  renderer->SetBackground(1, 1, 1);
  add_lamp(renderer);
  for (const Surface& surface : surfaces) {
    if (surface.triangles.rows() == 0) continue;
    add_faces(renderer, surface, camera);
    if (surface.edge_width > 0) add_edges(renderer, surface);
  }
  vtkNew<vtkRenderWindow> window;
  window->SetOffScreenRendering(1);
  window->SetMultiSamples(0);
  window->SetAlphaBitPlanes(1);
  window->SetSize(camera.width * oversampling, camera.height * oversampling);
  window->AddRenderer(renderer);
  renderer->UseDepthPeelingOn();
  renderer->SetMaximumNumberOfPeels(8);
  set_camera(renderer, camera);
  window->Render();
  vtkNew<vtkUnsignedCharArray> pixels;
  window->GetPixelData(0, 0, camera.width * oversampling - 1, camera.height * oversampling - 1, 0, pixels);
  return average_down(pixels, camera.width, camera.height);
}

}  // namespace halftool::io
