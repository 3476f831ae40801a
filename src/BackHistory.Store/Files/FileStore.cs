using Npgsql;

namespace BackHistory.Store.Files;

/// <summary>Reads files by their hash. What was erased is gone though its event stays.</summary>
public sealed class FileStore(PracticeDatabase database)
{
    /// <returns>False when there is no such file in this practice, or none any more.</returns>
    public async Task<bool> Copy(string practice, string hash, Stream to, CancellationToken ct)
    {
        await using var connection = await database.Open(practice, ct);
        await using var command = new NpgsqlCommand(
            $"select bytes from history.{FileTable.Name} where tenant_id = $1 and hash = $2 order by part",
            connection
        );
        command.Parameters.Add(new NpgsqlParameter { Value = practice });
        command.Parameters.Add(new NpgsqlParameter { Value = hash });
        await using var reader = await command.ExecuteReaderAsync(ct);
        var any = false;
        while (await reader.ReadAsync(ct))
        {
            any = true;
            await to.WriteAsync(reader.GetFieldValue<byte[]>(0), ct);
        }

        return any;
    }
}
