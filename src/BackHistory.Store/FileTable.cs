using BackHistory.History.Files;
using Marten;
using Weasel.Postgresql.Tables;

namespace BackHistory.Store;

/// <summary>
/// Where files lie: in the database, in parts, one copy a practice and hash. Beside the events in one transaction and one backup, the
/// same for every instance of the service, and erased by one statement; a folder would be none of these.
/// </summary>
internal static class FileTable
{
    public const string Name = "file_part";

    private const int PartLength = 1 << 20;

    public static Table Make(string schema)
    {
        var table = new Table($"{schema}.{Name}");
        table.AddColumn("tenant_id", "varchar").AsPrimaryKey();
        table.AddColumn("hash", "varchar(64)").AsPrimaryKey();
        table.AddColumn("part", "integer").AsPrimaryKey();
        table.AddColumn("bytes", "bytea").NotNull();
        return table;
    }

    public static void Queue(IDocumentSession session, FileBytes file)
    {
        for (var part = 0; part * PartLength < file.Bytes.Length; part++)
        {
            var bytes = file.Bytes[(part * PartLength)..Math.Min(file.Bytes.Length, (part + 1) * PartLength)].ToArray();
            session.QueueSqlCommand(
                $"insert into {session.DocumentStore.Options.DatabaseSchemaName}.{Name} (tenant_id, hash, part, bytes) values (?, ?, ?, "
                    + $"?) on conflict do nothing",
                session.TenantId,
                file.Hash,
                part,
                bytes
            );
        }
    }

    public static void Erase(IDocumentSession session, string hash) =>
        session.QueueSqlCommand(
            $"delete from {session.DocumentStore.Options.DatabaseSchemaName}.{Name} where tenant_id = ? and hash = ?",
            session.TenantId,
            hash
        );
}
