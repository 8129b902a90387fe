/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-bag-text.h"

#include "ws-intl.h"

#include <string.h>

/* Encodings that old bags are met in. Not every converter of the system is offered to strangers: some
 * have been known to hang or stop the program on hostile text. */
static const char *const encodings[] = {
  "US-ASCII", "ASCII", "LATIN1", "ISO8859-1", "ISO_8859-1", "ISO-8859-1", "ISO-8859-2", "ISO-8859-3", "ISO-8859-4", "ISO-8859-5", "ISO-8859-6",
  "ISO-8859-7", "ISO-8859-8", "ISO-8859-9", "ISO-8859-10", "ISO-8859-13", "ISO-8859-14", "ISO-8859-15",
  "ISO-8859-16", "UTF-16", "UTF-16LE", "UTF-16BE", "UTF-32", "UTF-32LE", "UTF-32BE", "WINDOWS-1250", "WINDOWS-1251",
  "WINDOWS-1252", "WINDOWS-1253", "WINDOWS-1254", "WINDOWS-1257", "CP1252", "KOI8-R", "KOI8-U", "SHIFT_JIS",
  "EUC-JP", "GB18030", "BIG5", NULL
};

static gboolean
is_known_encoding (const char *encoding)
{
  for (guint i = 0; encodings[i] != NULL; i++)
    if (g_ascii_strcasecmp (encodings[i], encoding) == 0)
      return TRUE;
  return FALSE;
}

static char *
plain_text (const char *data, gsize size, gboolean may_have_mark, const char **fault)
{
  if (size >= 3 && memcmp (data, "\xef\xbb\xbf", 3) == 0)
    {
      if (!may_have_mark)
        {
          *fault = _("it begins with a byte-order mark, which UTF-8 tag files must not have");
          return NULL;
        }
      data += 3;
      size -= 3;
    }
  if (size > 0 && (memchr (data, '\0', size) != NULL || !g_utf8_validate_len (data, size, NULL)))
    {
      *fault = _("it is not text in the encoding that bagit.txt declares");
      return NULL;
    }
  return size > 0 ? g_strndup (data, size) : g_strdup ("");
}

char *
ws_bag_text_decode (GBytes *bytes, const char *encoding, const char **fault)
{
  g_autofree char *converted = NULL;
  gsize size, n = 0;
  const char *data = g_bytes_get_data (bytes, &size);

  if (g_ascii_strcasecmp (encoding, "UTF-8") == 0)
    return plain_text (data, size, FALSE, fault);
  if (!is_known_encoding (encoding))
    {
      *fault = _("bagit.txt declares an encoding that is not known here");
      return NULL;
    }
  /* Without a byte-order mark the first character, which is always of ASCII, tells the order. */
  if (g_ascii_strcasecmp (encoding, "UTF-16") == 0 && size >= 2 && (guchar) data[0] < 0xfe)
    encoding = data[0] == '\0' ? "UTF-16BE" : "UTF-16LE";
  converted = g_convert (data, (gssize) size, "UTF-8", encoding, NULL, &n, NULL);
  if (converted == NULL)
    {
      *fault = _("it is not text in the encoding that bagit.txt declares");
      return NULL;
    }
  return plain_text (converted, n, TRUE, fault);
}

char *
ws_bag_text_next_line (char **at)
{
  char *line = *at;
  gsize length = strcspn (line, "\r\n");
  char *end = line + length;

  if (*line == '\0')
    return NULL;
  *at = end + (end[0] == '\r' && end[1] == '\n' ? 2 : end[0] != '\0' ? 1 : 0);
  *end = '\0';
  return line;
}

/* The value of "LABEL: value"; old bags also have blanks around the colon. (nullable) */
static char *
declared (char *line, const char *label, gboolean *loose)
{
  char *value = line + strlen (label);

  if (!g_str_has_prefix (line, label))
    return NULL;
  *loose = *loose || value[0] != ':' || value[1] != ' ' || g_ascii_isspace (value[2]);
  value = g_strchug (value);
  if (*value != ':')
    return NULL;
  value++;
  *loose = *loose || (value[0] != '\0' && g_ascii_isspace (value[strlen (value) - 1]));
  return g_strstrip (value);
}

static gboolean
parse_version (const char *text, int *version)
{
  static const char *const old[] = { "0.93", "0.94", "0.95", "0.96", "0.97" };

  for (guint i = 0; i < G_N_ELEMENTS (old); i++)
    if (g_str_equal (text, old[i]))
      {
        *version = WS_BAG_OLDEST + (int) i;
        return TRUE;
      }
  *version = WS_BAG_V1_0;
  return g_str_equal (text, "1.0");
}

gboolean
ws_bag_text_parse_declaration (GBytes *bytes, int *version, char **encoding, const char **fault)
{
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);
  g_autofree char *text = NULL;
  char *at, *line, *value;
  gboolean loose = FALSE;

  if (size > 4096)
    {
      *fault = _("it must have exactly two lines");
      return FALSE;
    }
  text = at = plain_text (data, size, FALSE, fault);
  if (text == NULL)
    return FALSE;
  line = ws_bag_text_next_line (&at);
  value = line != NULL ? declared (line, "BagIt-Version", &loose) : NULL;
  if (value == NULL || !g_ascii_isdigit (*value))
    {
      *fault = _("its first line must be “BagIt-Version: ” and a number");
      return FALSE;
    }
  if (!parse_version (value, version))
    {
      *fault = _("the version of BagIt is none of 0.93 to 0.97 and 1.0");
      return FALSE;
    }
  line = ws_bag_text_next_line (&at);
  value = line != NULL ? declared (line, "Tag-File-Character-Encoding", &loose) : NULL;
  if (value == NULL || *value == '\0')
    {
      *fault = _("its second line must be “Tag-File-Character-Encoding: ” and an encoding");
      return FALSE;
    }
  if (*version < WS_BAG_V1_0)
    at += strspn (at, " \t\r\n");
  *fault = *at != '\0' ? _("it must have exactly two lines")
           : loose && *version == WS_BAG_V1_0 ? _("a label must be followed by a colon and one blank") : NULL;
  if (*fault == NULL)
    *encoding = g_strdup (value);
  return *fault == NULL;
}

gboolean
ws_bag_text_split_entry (char *line, char **checksum, char **path, gboolean *star, const char **fault)
{
  gsize length = strspn (line, "0123456789abcdefABCDEF");
  char *at = line + length;

  if (length == 0 || (*at != ' ' && *at != '\t'))
    {
      *fault = _("a line must be a hexadecimal check sum, a blank and a path");
      return FALSE;
    }
  *at++ = '\0';
  at += strspn (at, " \t");
  *star = *at == '*';
  if (*star)
    at++;
  if (*at == '\0')
    {
      *fault = _("the path is missing");
      return FALSE;
    }
  for (char *c = line; *c != '\0'; c++)
    *c = g_ascii_tolower (*c);
  *checksum = line;
  *path = at;
  return TRUE;
}

gboolean
ws_bag_text_split_fetch (char *line, char **path, const char **fault)
{
  g_autofree char *scheme = NULL;
  char *at = line + strcspn (line, " \t"), *length;

  *fault = _("a line must be an address, a length and a path");
  if (at == line || *at == '\0')
    return FALSE;
  *at++ = '\0';
  length = at + strspn (at, " \t");
  at = length + strcspn (length, " \t");
  if (at == length || *at == '\0')
    return FALSE;
  *at++ = '\0';
  *path = at + strspn (at, " \t");
  if (**path == '\0')
    return FALSE;
  scheme = g_uri_parse_scheme (line);
  if (scheme == NULL)
    {
      *fault = _("the address must be absolute");
      return FALSE;
    }
  if (!g_str_equal (length, "-") && strspn (length, "0123456789") != strlen (length))
    {
      *fault = _("the length must be a number of bytes or “-”");
      return FALSE;
    }
  *fault = NULL;
  return TRUE;
}

gboolean
ws_bag_text_split_info (char *line, int version, char **label, char **value, const char **fault)
{
  char *colon = strchr (line, ':');
  gboolean strict = version >= WS_BAG_V1_0;

  if (colon == NULL || colon == line)
    {
      *fault = _("a line must be a label, a colon and a value");
      return FALSE;
    }
  *colon = '\0';
  if (strict && (g_ascii_isspace (colon[-1]) || g_ascii_isspace (line[0])))
    {
      *fault = _("a label must not begin or end with a blank");
      return FALSE;
    }
  if (strict && colon[1] != ' ' && colon[1] != '\t')
    {
      *fault = _("a label must be followed by a colon and one blank");
      return FALSE;
    }
  *label = g_strstrip (line);
  *value = strict ? colon + 2 : g_strstrip (colon + 1);
  if (**label == '\0')
    {
      *fault = _("a line must be a label, a colon and a value");
      return FALSE;
    }
  return TRUE;
}

char *
ws_bag_text_unescape (const char *path, gboolean *stray)
{
  static const struct { const char *code; char c; } codes[] = { { "%0A", '\n' }, { "%0D", '\r' }, { "%25", '%' } };
  GString *text = g_string_new (NULL);

  *stray = FALSE;
  while (*path != '\0')
    {
      guint i = 0;

      while (i < G_N_ELEMENTS (codes) && g_ascii_strncasecmp (path, codes[i].code, 3) != 0)
        i++;
      if (i < G_N_ELEMENTS (codes))
        {
          g_string_append_c (text, codes[i].c);
          path += 3;
          continue;
        }
      *stray = *stray || *path == '%';
      g_string_append_c (text, *path++);
    }
  return g_string_free (text, FALSE);
}

char *
ws_bag_text_escape (const char *path)
{
  GString *text = g_string_new (path);

  g_string_replace (text, "%", "%25", 0);
  g_string_replace (text, "\n", "%0A", 0);
  g_string_replace (text, "\r", "%0D", 0);
  return g_string_free (text, FALSE);
}
