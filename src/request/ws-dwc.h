/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Darwin Core archive by the text guide (TDWG, 2023-09-13): occurrences as the core; identifications, measurements or
 * facts, and media with their regions (Audiovisual Core) as extensions; meta.xml and eml.xml. Nothing uncertain is
 * written as firm: the scientific name is the lowest rank that somebody is sure of, the rest stands in
 * identificationQualifier (Horton et al. 2021). */
#pragma once

#include "ws-request-json.h"

typedef struct { char *name; GBytes *bytes; } WsDwcFile;   /* "meta.xml" */
void ws_dwc_file_free (WsDwcFile *file);

typedef struct _WsDwcArchive WsDwcArchive;

/* @language: of the texts. */
WsDwcArchive *ws_dwc_archive_new (const WsKnowledge *knowledge, const char *language) G_GNUC_WARN_UNUSED_RESULT;
void ws_dwc_archive_free (WsDwcArchive *archive);
/* Adds the find of a request, told as the request tells it. @photos: WsPackagePhoto; @photos_path: how their names are
 * reached from the archive: "../photos/" for names in "data/photos/". */
void ws_dwc_archive_add (WsDwcArchive *archive, const WsRequest *request, GPtrArray *photos, const char *photos_path);
/* The files. @id: of the archive (packageId); @made_us: UTC; @from: who gives it out, "" unknown. Elements WsDwcFile.
 * (transfer full) */
GPtrArray *ws_dwc_archive_dup_files (const WsDwcArchive *archive, const char *id, const char *from,
                                     gint64 made_us) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsDwcArchive, ws_dwc_archive_free)
