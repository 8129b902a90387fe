/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For memfd_create(). */
#define _GNU_SOURCE
#include "fuzz.h"

#include <locale.h>
#include <sys/mman.h>
#include <unistd.h>

/* As the programs begin; what GLib calls a fault of the caller must not happen. */
int
LLVMFuzzerInitialize (int *argc, char ***argv)
{
  setlocale (LC_ALL, "C.UTF-8");
  g_log_set_always_fatal (G_LOG_FATAL_MASK | G_LOG_LEVEL_CRITICAL);
  return 0;
}

const char *
fuzz_file (const uint8_t *data, size_t size)
{
  static char path[64];
  static int fd = -1;

  if (fd < 0)
    {
      fd = memfd_create ("fuzz", MFD_CLOEXEC);
      g_assert_cmpint (fd, >=, 0);
      g_snprintf (path, sizeof path, "/proc/self/fd/%d", fd);
    }
  g_assert_cmpint (ftruncate (fd, 0), ==, 0);
  for (size_t at = 0; at < size;)
    {
      ssize_t n = pwrite (fd, data + at, size - at, (off_t) at);

      g_assert_cmpint (n, >, 0);
      at += (size_t) n;
    }
  return path;
}

void
fuzz_check_error (GError *error)
{
  g_assert_nonnull (error);
  g_assert_nonnull (error->message);
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_error_free (error);
}
