/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a bag. */
#include "ws-bag-check.h"

#include "ws-intl.h"

WsBagVerdict *
ws_bag_verdict_new (void)
{
  WsBagVerdict *verdict = g_new0 (WsBagVerdict, 1);

  verdict->errors = g_ptr_array_new_with_free_func (g_free);
  verdict->warnings = g_ptr_array_new_with_free_func (g_free);
  return verdict;
}

void
ws_bag_verdict_free (WsBagVerdict *verdict)
{
  if (verdict == NULL)
    return;
  g_ptr_array_unref (verdict->errors);
  g_ptr_array_unref (verdict->warnings);
  g_free (verdict);
}

static void
add (GPtrArray *list, char *text)
{
  if (list->len < WS_BAG_MAX_TOLD)
    g_ptr_array_add (list, text);
  else
    {
      if (list->len == WS_BAG_MAX_TOLD)
        g_ptr_array_add (list, g_strdup (_("… and more, which are not told here")));
      g_free (text);
    }
}

void
ws_bag_verdict_add_error (WsBagVerdict *verdict, const char *format, ...)
{
  va_list args;

  verdict->valid = FALSE;
  va_start (args, format);
  add (verdict->errors, g_strdup_vprintf (format, args));
  va_end (args);
}

void
ws_bag_verdict_add_warning (WsBagVerdict *verdict, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  add (verdict->warnings, g_strdup_vprintf (format, args));
  va_end (args);
}
