/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-dwc-private.h"

#include "ws-json-build.h"

#define DWC "http://rs.tdwg.org/dwc/terms/"

void
ws_dwc_file_free (WsDwcFile *file)
{
  if (file == NULL)
    return;
  g_free (file->name);
  g_bytes_unref (file->bytes);
  g_free (file);
}

const char *
ws_dwc_word (const WsDwcArchive *archive, const char *kind, const char *id)
{
  return ws_knowledge_text (archive->knowledge, archive->language, kind, id);
}

const char *
ws_dwc_phrase (const WsDwcArchive *archive, const char *id)
{
  return ws_dwc_word (archive, "page", id);
}

WsDwcArchive *
ws_dwc_archive_new (const WsKnowledge *knowledge, const char *language)
{
  WsDwcArchive *archive = g_new0 (WsDwcArchive, 1);

  archive->knowledge = knowledge;
  archive->language = g_strdup (language);
  archive->occurrences = ws_dwc_table_new ("occurrence.csv", DWC "Occurrence", ws_dwc_occurrence_terms);
  archive->identifications = ws_dwc_table_new ("identification.csv", DWC "Identification", ws_dwc_identification_terms);
  archive->facts = ws_dwc_table_new ("measurement.csv", DWC "MeasurementOrFact", ws_dwc_fact_terms);
  archive->media = ws_dwc_table_new ("media.csv", "http://rs.tdwg.org/ac/terms/Multimedia", ws_dwc_media_terms);
  return archive;
}

void
ws_dwc_archive_free (WsDwcArchive *archive)
{
  if (archive == NULL)
    return;
  ws_dwc_table_free (archive->occurrences);
  ws_dwc_table_free (archive->identifications);
  ws_dwc_table_free (archive->facts);
  ws_dwc_table_free (archive->media);
  g_free (archive->language);
  g_free (archive);
}

void
ws_dwc_archive_add (WsDwcArchive *archive, const WsRequest *request, GPtrArray *photos, const char *photos_path)
{
  g_autofree char *id = g_strconcat ("urn:uuid:", request->find->id, NULL);
  WsDwcFind adding = { archive, request, request->find, id };

  ws_dwc_add_occurrence (&adding);
  ws_dwc_add_identifications (&adding);
  ws_dwc_add_facts (&adding);
  ws_dwc_add_media (&adding, photos, photos_path);
}

/* --- The two XML files --------------------------------------------------------------------------------- */

static void
add_file (GPtrArray *files, const char *name, GBytes *bytes)
{
  WsDwcFile *file = g_new0 (WsDwcFile, 1);

  file->name = g_strdup (name);
  file->bytes = bytes;
  g_ptr_array_add (files, file);
}

static void
add_xml (GPtrArray *files, const char *name, GString *xml)
{
  gsize size = xml->len;

  add_file (files, name, g_bytes_new_take (g_string_free (xml, FALSE), size));
}

static GString *
make_meta (const WsDwcArchive *archive)
{
  GString *xml = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                               "<archive xmlns=\"http://rs.tdwg.org/dwc/text/\" metadata=\"eml.xml\">\n");

  ws_dwc_table_add_meta (archive->occurrences, xml, TRUE);
  ws_dwc_table_add_meta (archive->identifications, xml, FALSE);
  ws_dwc_table_add_meta (archive->facts, xml, FALSE);
  ws_dwc_table_add_meta (archive->media, xml, FALSE);
  g_string_append (xml, "</archive>\n");
  return xml;
}

static void
add_element (GString *xml, const char *name, const char *text)
{
  g_autofree char *plain = ws_json_clean (text), *escaped = g_markup_escape_text (plain, -1);

  g_string_append_printf (xml, "<%s>%s</%s>", name, escaped, name);
}

/* A person needs a surname, and what somebody calls themselves is taken for it; else there is only a role. */
static void
add_party (const WsDwcArchive *archive, GString *xml, const char *role, const char *who)
{
  g_autofree char *name = g_strstrip (g_strdup (who));

  g_string_append_printf (xml, "    <%s>", role);
  if (*name != '\0')
    {
      g_string_append (xml, "<individualName>");
      add_element (xml, "surName", name);
      g_string_append (xml, "</individualName>");
    }
  else
    add_element (xml, "positionName", ws_dwc_phrase (archive, "dwc_finder"));
  g_string_append_printf (xml, "</%s>\n", role);
}

/* The smallest EML that the GBIF profile 1.3 takes, in its order. */
static GString *
make_eml (const WsDwcArchive *archive, const char *id, const char *from, gint64 made_us)
{
  g_autoptr (GDateTime) made = g_date_time_new_from_unix_utc (made_us / G_USEC_PER_SEC);
  g_autofree char *day = made != NULL ? g_date_time_format (made, "%Y-%m-%d") : g_strdup ("1970-01-01");
  GString *xml = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                               "<eml:eml xmlns:eml=\"https://eml.ecoinformatics.org/eml-2.2.0\" packageId=\"");
  g_autofree char *package = g_markup_escape_text (id, -1), *language = g_markup_escape_text (archive->language, -1);

  g_string_append_printf (xml, "%s\" system=\"Wholestem\" scope=\"system\" xml:lang=\"%s\">\n  <dataset>\n    ", package,
                          language);
  add_element (xml, "title", ws_dwc_phrase (archive, "dwc_title"));
  g_string_append_c (xml, '\n');
  add_party (archive, xml, "creator", from);
  g_string_append (xml, "    ");
  add_element (xml, "pubDate", day);
  g_string_append (xml, "\n    <abstract>");
  add_element (xml, "para", ws_dwc_phrase (archive, "dwc_abstract"));
  g_string_append (xml, "</abstract>\n");
  add_party (archive, xml, "contact", from);
  g_string_append (xml, "  </dataset>\n</eml:eml>\n");
  return xml;
}

GPtrArray *
ws_dwc_archive_dup_files (const WsDwcArchive *archive, const char *id, const char *from, gint64 made_us)
{
  const WsDwcTable *tables[] = { archive->occurrences, archive->identifications, archive->facts, archive->media };
  GPtrArray *files = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_dwc_file_free);

  add_xml (files, "meta.xml", make_meta (archive));
  add_xml (files, "eml.xml", make_eml (archive, id, from, made_us));
  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    add_file (files, ws_dwc_table_get_file (tables[i]), ws_dwc_table_dup_csv (tables[i]));
  return files;
}
