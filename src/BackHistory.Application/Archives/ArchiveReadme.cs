namespace BackHistory.Application.Archives;

/// <summary>What lies in an archive, in the archive.</summary>
internal static class ArchiveReadme
{
    public static string Text(bool oneHorse) =>
        $"""
            This archive holds {(oneHorse ? "one horse with its saddles and reminders" : "a whole practice")}, as BackHistory kept it.

            events.jsonl        Everything that happened, one JSON object a line, in the order in which it was recorded. `type` names
                                the event and the version of its shape; `data` follows schemas/<type>.json. `recordedAt` is when it was
                                typed in, `data.takenAt` when it was true. Lines with one `command` are one act. Lengths are millimetres,
                                angles degrees, masses kilograms, times UTC or with offset.
            schemas/            A JSON Schema (2020-12) for every type.
            documents/          What must be erasable and therefore stands beside the events: people, yards, notes,
                                comments, letters, how the practice is reached, microchips and passports; the last finding on each horse;
                                and the audit: who looked at which horse and when, or was
                                turned away. Events and audit name people by id.
            tables/             What follows from the events, as CSV (RFC 4180, UTF-8, decimal point). A leading ' keeps a text
                                from being run as a formula.
            tracings/           Every tracing as x_mm,y_mm and as a drawing at full size: tracings/<horse>/<visit>/<entry>.
            manifest.json       How many lines and attachments there are. Taken in, an archive must hold as many; whoever changes one by
                                hand changes the count with it, or leaves this file out.
            attachments/        Photographs and documents by the SHA-256 of their bytes, as events name them. What was erased is not here.

            Taken into an empty practice, events.jsonl, documents/ and attachments/ give the same history again; the rest follows from them.
            Keys of single requests, sign-ins and webhooks are not part of a practice's history and are not here.

            """;
}
