/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-inner-path.h"

#include "ws-intl.h"

#include <string.h>

#define QUOTE_MAX 120

static const char *
part_fault (const char *part, gsize length)
{
  if (length == 0)
    return _("it has an empty part");
  if (length == 1 && part[0] == '.')
    return _("it has a part “.”");
  if (length == 2 && part[0] == '.' && part[1] == '.')
    return _("it leads upwards with “..”");
  return NULL;
}

const char *
ws_inner_path_fault (const char *path)
{
  const char *at = path;
  guint depth = 0;

  if (path[0] == '\0')
    return _("it is empty");
  if (path[0] == '/')
    return _("it is an absolute path");
  if (path[0] == '\\')
    return _("it begins with a backslash, as a path to another computer or device does");
  if (path[0] == '~')
    return _("it begins with “~”, which stands for a home folder");
  if (g_ascii_isalpha (path[0]) && path[1] == ':')
    return _("it begins with a drive letter");
  if (strlen (path) > WS_INNER_PATH_MAX)
    return _("it is longer than 1,000 bytes");
  while (at != NULL)
    {
      const char *end = strchr (at, '/');
      const char *fault = part_fault (at, end != NULL ? (gsize) (end - at) : strlen (at));

      if (fault != NULL)
        return fault;
      if (++depth > WS_INNER_PATH_MAX_DEPTH + 1)
        return _("it lies more than 32 folders deep");
      at = end != NULL ? end + 1 : NULL;
    }
  /* Also "..\", for programs to which a backslash separates folders. */
  if (strstr (path, "..\\") != NULL || strstr (path, "\\..") != NULL)
    return _("it leads upwards with “..”");
  return NULL;
}

/* Windows keeps these names for devices, with any extension and in any case. */
static gboolean
is_device (const char *part, gsize length)
{
  static const char *const names[] = { "con", "prn", "aux", "nul" };
  gsize stem = 0;

  while (stem < length && part[stem] != '.')
    stem++;
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (stem == 3 && g_ascii_strncasecmp (part, names[i], 3) == 0)
      return TRUE;
  return stem == 4 && part[3] >= '1' && part[3] <= '9'
         && (g_ascii_strncasecmp (part, "com", 3) == 0 || g_ascii_strncasecmp (part, "lpt", 3) == 0);
}

const char *
ws_inner_path_nuisance (const char *path)
{
  if (strlen (path) > 255)
    return _("it is longer than 255 bytes");
  for (const char *at = path; *at != '\0'; at++)
    {
      if ((guchar) *at < 0x20 || *at == 0x7f)
        return _("it holds a control character");
      if (strchr ("<>:\"\\|?*", *at) != NULL)
        return _("it holds one of < > : \" \\ | ? *");
    }
  for (const char *at = path; at != NULL;)
    {
      const char *end = strchr (at, '/');
      gsize length = end != NULL ? (gsize) (end - at) : strlen (at);

      if (is_device (at, length))
        return _("Windows keeps this name for a device");
      if (length > 0 && (at[length - 1] == '.' || at[length - 1] == ' '))
        return _("a part of it ends with a dot or a blank");
      at = end != NULL ? end + 1 : NULL;
    }
  return NULL;
}

/* Characters that turn the direction of a text or hide in it could make a message say something else. */
static gboolean
is_plain (gunichar c)
{
  return g_unichar_isprint (c) && !(c >= 0x200b && c <= 0x200f) && !(c >= 0x2028 && c <= 0x202e)
         && !(c >= 0x2060 && c <= 0x206f) && c != 0xfeff;
}

char *
ws_inner_path_quote (const char *path)
{
  g_autofree char *head = g_strndup (path, 4 * QUOTE_MAX);
  g_autofree char *valid = g_utf8_make_valid (head, -1);
  GString *text = g_string_new (NULL);
  guint n = 0;

  for (const char *at = valid; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (++n > QUOTE_MAX)
        {
          g_string_append (text, "…");
          break;
        }
      if (is_plain (c))
        g_string_append_unichar (text, c);
      else
        g_string_append_printf (text, "\\u{%x}", c);
    }
  return g_string_free (text, FALSE);
}

char *
ws_inner_path_key (const char *path, gboolean fold_case)
{
  g_autofree char *form = g_utf8_normalize (path, -1, G_NORMALIZE_NFC);
  g_autofree char *folded = NULL;

  if (form == NULL)
    return g_strdup (path);
  if (!fold_case)
    return g_steal_pointer (&form);
  folded = g_utf8_casefold (form, -1);
  return g_utf8_normalize (folded, -1, G_NORMALIZE_NFC);
}
