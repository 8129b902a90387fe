/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos as media items, marks as their regions of interest (Audiovisual Core). Both stand in one table, because
 * every row of an extension can only point to the core; a region names its photo in ac:isROIOf. Fractions are those of
 * the upright copy in the package, whose size stands beside them. */
#include "ws-dwc-private.h"

#include "ws-part-terms.h"

#include <math.h>
#include <string.h>

const char *const ws_dwc_media_terms[] = {
  "dcterms:identifier", "dcterms:type", "dc:type", "ac:subtype", "ac:metadataLanguage", "ac:metadataLanguageLiteral",
  "dc:rights", "dcterms:title", "dcterms:description", "ac:accessURI", "dcterms:format", "dc:format", "ac:variant",
  "ac:hashFunction", "ac:hashValue", "exif:PixelXDimension", "exif:PixelYDimension", "xmp:CreateDate", "dc:creator",
  "ac:captureDevice", "ac:associatedObservationReference", "ac:hasROI", "ac:isROIOf", "ac:xFrac", "ac:yFrac",
  "ac:widthFrac", "ac:heightFrac", "ac:subjectPart", "ac:subjectPartLiteral", "ac:subjectOrientation",
  "ac:subjectOrientationLiteral", "Iptc4xmpExt:CVterm", "ac:tag", NULL
};

/* Three letters of ISO 639-2 for the languages of ours; two letters are deprecated in AC. */
static const struct { const char *code, *three; } languages[] = { { "en", "eng" }, { "de", "ger" } };

static void
put_language (const WsDwcFind *adding, WsDwcTable *table)
{
  const char *code = adding->archive->language;

  for (gsize i = 0; i < G_N_ELEMENTS (languages); i++)
    if (g_str_equal (languages[i].code, code))
      {
        g_autofree char *iri = g_strconcat ("http://id.loc.gov/vocabulary/iso639-2/", languages[i].three, NULL);

        ws_dwc_table_put (table, "ac:metadataLanguage", iri);
        code = languages[i].three;
      }
  ws_dwc_table_put (table, "ac:metadataLanguageLiteral", code);
}

/* Begins a row with what every media item and every region has. */
static WsDwcTable *
begin (const WsDwcFind *adding, const char *id)
{
  WsDwcTable *table = adding->archive->media;
  g_autofree char *urn = g_strconcat ("urn:uuid:", id, NULL);

  ws_dwc_table_begin (table, adding->id);
  ws_dwc_table_put (table, "dcterms:identifier", urn);
  ws_dwc_table_put (table, "dcterms:type", "http://purl.org/dc/dcmitype/StillImage");
  ws_dwc_table_put (table, "dc:type", "StillImage");
  ws_dwc_table_put (table, "ac:subtype", "http://rs.tdwg.org/acsubtype/values/Photograph");
  put_language (adding, table);
  ws_dwc_table_put (table, "dc:rights", ws_dwc_phrase (adding->archive, "dwc_rights"));
  ws_dwc_table_put (table, "ac:associatedObservationReference", adding->id);
  return table;
}

static void
put_regions (const WsDwcFind *adding, WsDwcTable *table, const char *photo_id)
{
  g_autoptr (GString) ids = g_string_new (NULL);

  for (guint i = 0; i < adding->find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (adding->find->marks, i);

      if (g_str_equal (mark->photo_id, photo_id))
        g_string_append_printf (ids, "%surn:uuid:%s", ids->len > 0 ? "|" : "", mark->id);
    }
  ws_dwc_table_put (table, "ac:hasROI", ids->str);
}

/* AC wants a zone wherever there is a time: without one the date alone is told. */
static char *
dup_created (const WsRequest *request, const WsMoment *taken)
{
  return request->keep_time && taken->offset_source != WS_OFFSET_UNKNOWN ? ws_moment_iso (taken) : ws_moment_date (taken);
}

static void
add_photo (const WsDwcFind *adding, const WsPackagePhoto *sent, guint number, const char *photos_path)
{
  WsDwcTable *table = begin (adding, sent->photo->id);
  g_autofree char *file = g_path_get_basename (sent->name), *path = g_strconcat (photos_path, file, NULL);
  g_autofree char *created = dup_created (adding->request, &sent->photo->taken);
  g_autofree char *title = g_strdup_printf ("%s %u, %s", ws_dwc_phrase (adding->archive, "photo"), number, adding->find->number);

  ws_dwc_table_put (table, "dcterms:title", title);
  ws_dwc_table_put (table, "ac:accessURI", path);
  ws_dwc_table_put (table, "dcterms:format", "http://rs.tdwg.org/format/values/m008");
  ws_dwc_table_put (table, "dc:format", "image/jpeg");
  ws_dwc_table_put (table, "ac:variant", "http://rs.tdwg.org/acvariant/values/v005");
  ws_dwc_table_put (table, "ac:hashFunction", "SHA-512");
  ws_dwc_table_put (table, "ac:hashValue", sent->digest);
  ws_dwc_table_put_number (table, "exif:PixelXDimension", sent->width, 0);
  ws_dwc_table_put_number (table, "exif:PixelYDimension", sent->height, 0);
  ws_dwc_table_put (table, "xmp:CreateDate", created);
  ws_dwc_table_put (table, "dc:creator", adding->request->from);
  if (adding->request->keep_camera && (*sent->photo->make != '\0' || *sent->photo->model != '\0'))
    {
      g_autofree char *camera = g_strconcat (sent->photo->make, " ", sent->photo->model, NULL);

      ws_dwc_table_put (table, "ac:captureDevice", camera);
    }
  put_regions (adding, table, sent->photo->id);
  ws_dwc_table_end (table);
}

/* Left and right edge are rounded each by itself and the width is what lies between: so the lower right corner is
 * exact, and x + width never passes 1. */
static void
put_span (WsDwcTable *table, const char *from_term, const char *size_term, double from, double size)
{
  double start = round (CLAMP (from, 0, 1 - 1e-6) * 1e6), end = round (CLAMP (from + size, 0, 1) * 1e6);

  ws_dwc_table_put_number (table, from_term, start / 1e6, 6);
  ws_dwc_table_put_number (table, size_term, MAX (end - start, 1) / 1e6, 6);
}

static void
add_region (const WsDwcFind *adding, const WsMark *mark)
{
  const WsDwcArchive *archive = adding->archive;
  const WsPartTerms *terms = ws_part_terms (mark->part);
  const WsPart *part = ws_knowledge_find_part (archive->knowledge, mark->part);
  WsDwcTable *table = begin (adding, mark->id);
  g_autofree char *of = g_strconcat ("urn:uuid:", mark->photo_id, NULL);
  g_autofree char *letter = ws_find_dup_mark_letter (adding->find, mark);
  g_autofree char *title = g_strdup_printf ("%s: %s", letter, ws_dwc_word (archive, "part", mark->part));
  GString *text = g_string_new (ws_dwc_word (archive, "part", mark->part));

  if (*mark->base_kind != '\0')
    g_string_append_printf (text, " | %s %s", ws_dwc_phrase (archive, "base_question"),
                            ws_dwc_word (archive, "base_kind", mark->base_kind));
  if (*mark->specimen != '\0')
    g_string_append_printf (text, " | %s %s", ws_dwc_phrase (archive, "specimen"), mark->specimen);
  if (*mark->remark != '\0')
    g_string_append_printf (text, " | %s", mark->remark);
  ws_dwc_table_put (table, "dcterms:title", title);
  ws_dwc_table_put (table, "dcterms:description", text->str);
  g_string_free (text, TRUE);
  ws_dwc_table_put (table, "ac:isROIOf", of);
  put_span (table, "ac:xFrac", "ac:widthFrac", mark->shape->bounds.x, mark->shape->bounds.width);
  put_span (table, "ac:yFrac", "ac:heightFrac", mark->shape->bounds.y, mark->shape->bounds.height);
  ws_dwc_table_put (table, "ac:subjectPart", terms->ac_part != NULL ? terms->ac_part : terms->iri);
  ws_dwc_table_put (table, "ac:subjectPartLiteral", terms->ac_literal != NULL ? terms->ac_literal
                                                    : part != NULL && part->term != NULL ? part->term : mark->part);
  ws_dwc_table_put (table, "ac:subjectOrientation", terms->orientation);
  ws_dwc_table_put (table, "ac:subjectOrientationLiteral", terms->orientation_literal);
  ws_dwc_table_put (table, "Iptc4xmpExt:CVterm", terms->content);
  ws_dwc_table_put (table, "ac:tag", mark->part);
  ws_dwc_table_end (table);
}

void
ws_dwc_add_media (const WsDwcFind *adding, GPtrArray *photos, const char *photos_path)
{
  for (guint i = 0; i < photos->len; i++)
    add_photo (adding, g_ptr_array_index (photos, i), i + 1, photos_path);
  for (guint i = 0; i < adding->find->marks->len; i++)
    add_region (adding, g_ptr_array_index (adding->find->marks, i));
}
