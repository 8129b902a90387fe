/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-dwc-table.h"

#include "ws-json-build.h"

#include <math.h>
#include <string.h>

struct _WsDwcTable
{
  const char *file, *row_type;
  const char *const *terms;
  guint n_terms;
  char *id;          /* of the row being filled */
  char **cells;      /* n_terms, NULL empty */
  GString *csv;
};

static const struct { const char *prefix, *space; } spaces[] = {
  { "dwc:", "http://rs.tdwg.org/dwc/terms/" },       { "ac:", "http://rs.tdwg.org/ac/terms/" },
  { "dcterms:", "http://purl.org/dc/terms/" },       { "dc:", "http://purl.org/dc/elements/1.1/" },
  { "xmp:", "http://ns.adobe.com/xap/1.0/" },        { "xmpRights:", "http://ns.adobe.com/xap/1.0/rights/" },
  { "exif:", "http://ns.adobe.com/exif/1.0/" },      { "Iptc4xmpExt:", "http://iptc.org/std/Iptc4xmpExt/2008-02-29/" },
};

/* The IRI of "prefix:name". (transfer full) */
static char *
dup_iri (const char *term)
{
  for (gsize i = 0; i < G_N_ELEMENTS (spaces); i++)
    if (g_str_has_prefix (term, spaces[i].prefix))
      return g_strconcat (spaces[i].space, term + strlen (spaces[i].prefix), NULL);
  g_critical ("no namespace for %s", term);
  return g_strdup (term);
}

/* Always in quotes where they could matter, so that no reader has to guess. */
static void
add_cell (GString *csv, const char *text)
{
  if (text == NULL)
    return;
  if (strpbrk (text, "\",;\t ") == NULL)
    {
      g_string_append (csv, text);
      return;
    }
  g_string_append_c (csv, '"');
  for (; *text != '\0'; text++)
    g_string_append (csv, *text == '"' ? "\"\"" : (char[]) { *text, '\0' });
  g_string_append_c (csv, '"');
}

WsDwcTable *
ws_dwc_table_new (const char *file, const char *row_type, const char *const *terms)
{
  WsDwcTable *table = g_new0 (WsDwcTable, 1);

  table->file = file;
  table->row_type = row_type;
  table->terms = terms;
  table->n_terms = g_strv_length ((char **) terms);
  table->cells = g_new0 (char *, table->n_terms);
  table->csv = g_string_new ("id");
  for (guint i = 0; i < table->n_terms; i++)
    {
      g_string_append_c (table->csv, ',');
      add_cell (table->csv, terms[i]);
    }
  g_string_append_c (table->csv, '\n');
  return table;
}

void
ws_dwc_table_free (WsDwcTable *table)
{
  if (table == NULL)
    return;
  for (guint i = 0; i < table->n_terms; i++)
    g_free (table->cells[i]);
  g_free (table->cells);
  g_free (table->id);
  g_string_free (table->csv, TRUE);
  g_free (table);
}

static void
put (WsDwcTable *table, const char *term, char *text)
{
  for (guint i = 0; i < table->n_terms; i++)
    if (g_str_equal (table->terms[i], term))
      {
        g_free (table->cells[i]);
        table->cells[i] = text;
        return;
      }
  g_critical ("%s has no column %s", table->file, term);
  g_free (text);
}

void
ws_dwc_table_begin (WsDwcTable *table, const char *id)
{
  g_free (table->id);
  table->id = g_strdup (id);
}

void
ws_dwc_table_put (WsDwcTable *table, const char *term, const char *text)
{
  g_autofree char *plain = text != NULL ? ws_json_clean (text) : NULL;

  if (plain == NULL || *g_strstrip (g_strdelimit (plain, "\r\n\t", ' ')) == '\0')
    return;
  put (table, term, strchr ("=+-@", *plain) != NULL ? g_strconcat ("'", plain, NULL) : g_strdup (plain));
}

void
ws_dwc_table_put_number (WsDwcTable *table, const char *term, double number, int decimals)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE], pattern[8];

  if (!isfinite (number))
    return;
  g_snprintf (pattern, sizeof pattern, "%%.%df", CLAMP (decimals, 0, 9));
  put (table, term, g_strdup (g_ascii_formatd (text, sizeof text, pattern, number)));
}

void
ws_dwc_table_end (WsDwcTable *table)
{
  add_cell (table->csv, table->id);
  for (guint i = 0; i < table->n_terms; i++)
    {
      g_string_append_c (table->csv, ',');
      add_cell (table->csv, table->cells[i]);
      g_clear_pointer (&table->cells[i], g_free);
    }
  g_string_append_c (table->csv, '\n');
}

const char *
ws_dwc_table_get_file (const WsDwcTable *table)
{
  return table->file;
}

GBytes *
ws_dwc_table_dup_csv (const WsDwcTable *table)
{
  return g_bytes_new (table->csv->str, table->csv->len);
}

void
ws_dwc_table_add_meta (const WsDwcTable *table, GString *xml, gboolean core)
{
  g_string_append_printf (xml, "  <%s encoding=\"UTF-8\" fieldsTerminatedBy=\",\" linesTerminatedBy=\"\\n\" "
                               "fieldsEnclosedBy=\"&quot;\" ignoreHeaderLines=\"1\" rowType=\"%s\">\n"
                               "    <files>\n      <location>%s</location>\n    </files>\n    <%s index=\"0\"/>\n",
                          core ? "core" : "extension", table->row_type, table->file, core ? "id" : "coreid");
  for (guint i = 0; i < table->n_terms; i++)
    {
      g_autofree char *iri = dup_iri (table->terms[i]);

      g_string_append_printf (xml, "    <field index=\"%u\" term=\"%s\"/>\n", i + 1, iri);
    }
  g_string_append_printf (xml, "  </%s>\n", core ? "core" : "extension");
}
