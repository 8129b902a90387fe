/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-blocking.h"

#include <sys/resource.h>

/* As of nice(1). */
#define GIVES_WAY 10

static GThread *drawing_thread;

void
ws_blocking_forbid_here (void)
{
  g_atomic_pointer_set (&drawing_thread, g_thread_self ());
}

void
ws_blocking (const char *what)
{
  if (G_UNLIKELY (g_atomic_pointer_get (&drawing_thread) == g_thread_self ()))
    g_critical ("%s on the thread that draws", what);
}

void
ws_blocking_give_way (void)
{
  static _Thread_local gboolean given;

  /* Where it cannot be, nothing is lost. */
  if (!given)
    (void) setpriority (PRIO_PROCESS, 0, GIVES_WAY);
  given = TRUE;
}
