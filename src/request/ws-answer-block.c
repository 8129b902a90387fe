/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An answer as a block of text: see data/schema/README.md. */
#include "ws-answer-json.h"

#include "ws-digest.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

#define BEGIN "-----BEGIN WHOLESTEM ANSWER-----"
#define END "-----END WHOLESTEM ANSWER-----"
#define LINE 64

char *
ws_answer_to_block (GBytes *json)
{
  gsize size;
  const guchar *data = g_bytes_get_data (json, &size);
  g_autofree char *text = g_base64_encode (data, size), *sum = ws_digest_crc32 (data, size);
  GString *block = g_string_new (BEGIN "\n");

  for (gsize at = 0; text[at] != '\0'; at += MIN (LINE, strlen (text + at)))
    g_string_append_printf (block, "%.*s\n", LINE, text + at);
  g_string_append_printf (block, "crc32 %s\n" END "\n", sum);
  return g_string_free (block, FALSE);
}

static GBytes *
damaged (GError **error)
{
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
               _("The answer in this text is damaged: ask for it again, as a file if a mail program changes it"));
  return NULL;
}

/* Everything between the two lines that is no quotation mark and no blank. */
static char *
dup_letters (const char *from, const char *to)
{
  GString *letters = g_string_sized_new ((gsize) (to - from));

  for (; from < to; from++)
    if (strchr ("> \t\r\n", *from) == NULL || *from == '\0')
      g_string_append_c (letters, *from);
  return g_string_free (letters, FALSE);
}

/* @letters: base64, then "crc32" and eight digits; it is changed. */
static GBytes *
decode (char *letters, GError **error)
{
  char *mark = strstr (letters, "crc32");
  g_autofree char *sum = NULL;
  g_autofree guchar *data = NULL;
  gsize size, n;

  if (mark == NULL || strlen (mark) != strlen ("crc32") + 8)
    return damaged (error);
  *mark = '\0';
  n = strlen (letters);
  if (n == 0 || n % 4 != 0
      || strspn (letters, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/=") != n)
    return damaged (error);
  data = g_base64_decode (letters, &size);
  sum = ws_digest_crc32 (data, size);
  if (g_ascii_strcasecmp (sum, mark + strlen ("crc32")) != 0)
    return damaged (error);
  return g_bytes_new_take (g_steal_pointer (&data), size);
}

GBytes *
ws_answer_from_block (GBytes *text, GError **error)
{
  gsize size;
  const char *data = g_bytes_get_data (text, &size);
  const char *begin, *end;
  g_autofree char *letters = NULL;

  if (size > WS_ANSWER_MAX_BYTES)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_TOO_LARGE, _("The text is larger than the limit of %d bytes"), WS_ANSWER_MAX_BYTES);
      return NULL;
    }
  begin = size > 0 ? g_strstr_len (data, (gssize) size, BEGIN) : NULL;
  if (begin == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no answer of the program in this text"));
      return NULL;
    }
  begin += strlen (BEGIN);
  end = g_strstr_len (begin, data + size - begin, END);
  if (end == NULL)
    return damaged (error);
  letters = dup_letters (begin, end);
  return decode (letters, error);
}
