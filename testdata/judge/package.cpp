// package FILE.3mf: what the reference reader of the format, in its strict
// mode, says of a file, as one JSON line.
#include <Model/COM/NMR_DLLInterfaces.h>

#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

using namespace NMR;

static std::string quoted(const std::string& s) {
  std::string out = "\"";
  for (unsigned char c : s) {
    char b[8];
    if (c == '"' || c == '\\') out += '\\', out += char(c);
    else if (c < 0x20) std::snprintf(b, sizeof b, "\\u%04x", c), out += b;
    else out += char(c);
  }
  return out + "\"";
}

// must ends the program with the reader's own words when a call failed.
static void must(LIB3MFRESULT r, PLib3MFBase* on, const char* what) {
  if (r == LIB3MF_OK) return;
  DWORD code = 0;
  LPCSTR text = nullptr;
  if (on) lib3mf_getlasterror(on, &code, &text);
  std::string said = std::string(what) + ": " + (text ? text : "failed") + " (" + std::to_string(code) + ")";
  std::printf("{\"refused\":%s}\n", quoted(said).c_str());
  std::exit(0);
}

static std::string list(const std::vector<std::string>& v) {
  std::string out = "[";
  for (std::size_t i = 0; i < v.size(); i++) out += (i ? "," : "") + quoted(v[i]);
  return out + "]";
}

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  PLib3MFModel* model = nullptr;
  PLib3MFModelReader* reader = nullptr;
  must(lib3mf_createmodel(&model), nullptr, "model");
  must(lib3mf_model_queryreader(model, "3mf", &reader), model, "reader");
  must(lib3mf_reader_setstrictmodeactive(reader, true), reader, "strict mode");
  must(lib3mf_reader_readfromfileutf8(reader, argv[1]), reader, argv[1]);

  std::vector<std::string> warnings, names, keys;
  char text[4096];
  ULONG needed = 0;
  DWORD count = 0, code = 0;
  must(lib3mf_reader_getwarningcount(reader, &count), reader, "warnings");
  for (DWORD i = 0; i < count; i++) {
    must(lib3mf_reader_getwarningutf8(reader, i, &code, text, sizeof text, &needed), reader, "warning");
    warnings.push_back(text);
  }
  must(lib3mf_model_getmetadatacount(model, &count), model, "metadata");
  for (DWORD i = 0; i < count; i++) {
    must(lib3mf_model_getmetadatakeyutf8(model, i, text, sizeof text, &needed), model, "metadata");
    keys.push_back(text);
  }

  unsigned long vertices = 0, triangles = 0, sound = 0, items = 0;
  PLib3MFModelResourceIterator* it = nullptr;
  must(lib3mf_model_getmeshobjects(model, &it), model, "objects");
  for (BOOL more = false;;) {
    must(lib3mf_resourceiterator_movenext(it, &more), it, "objects");
    if (!more) break;
    PLib3MFModelResource* object = nullptr;
    must(lib3mf_resourceiterator_getcurrent(it, &object), it, "object");
    DWORD nv = 0, nt = 0;
    BOOL good = false;
    must(lib3mf_meshobject_getvertexcount(object, &nv), object, "vertices");
    must(lib3mf_meshobject_gettrianglecount(object, &nt), object, "triangles");
    must(lib3mf_meshobject_ismanifoldandoriented(object, &good), object, "manifold");
    must(lib3mf_object_getnameutf8(object, text, sizeof text, &needed), object, "name");
    names.push_back(text);
    vertices += nv, triangles += nt, sound += good ? 1 : 0;
  }
  PLib3MFModelBuildItemIterator* built = nullptr;
  must(lib3mf_model_getbuilditems(model, &built), model, "build");
  for (BOOL more = false;;) {
    must(lib3mf_builditemiterator_movenext(built, &more), built, "build");
    if (!more) break;
    items++;
  }
  eModelUnit unit = MODELUNIT_INCH;
  must(lib3mf_model_getunit(model, (DWORD*)&unit), model, "unit");
  std::printf(
      "{\"warnings\":%s,\"objects\":%s,\"sound\":%lu,\"items\":%lu,\"vertices\":%lu,\"triangles\":%lu,"
      "\"millimetre\":%s,\"metadata\":%s}\n",
      list(warnings).c_str(), list(names).c_str(), sound, items, vertices, triangles,
      unit == MODELUNIT_MILLIMETER ? "true" : "false", list(keys).c_str());
  return 0;
}
