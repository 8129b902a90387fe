/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A process gives up what it does not need before it touches a stranger's bytes. Private to wholestem-decoder. */
#pragma once

#include <glib.h>

/* Limits of the kernel: @seconds of processor time, @memory bytes of address space, files (and memory files) of at most
 * @file_size bytes, no core file, no new privileges, and an end with the parent. The limit of address space is left out
 * in a build with the address sanitizer, which reserves terabytes. FALSE with errno set. */
gboolean ws_confine_limits (guint seconds, guint64 memory, guint64 file_size);
/* A seccomp filter (libseccomp): memory, threads, clocks and the descriptors that are open already. Opening files,
 * sockets, and everything else is refused with EPERM; starting a program or a process ends the program. FALSE if the
 * system does not have it. */
gboolean ws_confine_calls (void);
