using Npgsql;

namespace BackHistory.Store;

/// <summary>The role as which practices are served: made where it is missing, and proved to stay on its side of tenant isolation.</summary>
internal static class TenantRole
{
    private static readonly string[] Raced = [PostgresErrorCodes.DuplicateObject, PostgresErrorCodes.UniqueViolation, "XX000"];

    public static async Task Make(NpgsqlConnection owner, NpgsqlConnectionStringBuilder member, CancellationToken ct)
    {
        var name = TenantIsolation.Quoted(member.Username!);
        var secret = member.Password is { Length: > 0 } password ? $"password '{ScramVerifier.VerifierFor(password)}'" : "password null";
        try
        {
            if (await TenantIsolation.Scalar(owner, "select 1 from pg_roles where rolname = $1", ct, member.Username!) is null)
                await TenantIsolation.Do(
                    owner,
                    $"create role {name} login nosuperuser nobypassrls nocreatedb nocreaterole noinherit {secret}",
                    ct
                );
            else if (await Refused(member, ct))
                await TenantIsolation.Do(owner, $"alter role {name} login {secret}", ct);
        }
        catch (PostgresException e) when (Raced.Contains(e.SqlState))
        {
            // Another instance makes the same role at this moment, from the same secret.
        }
        catch (PostgresException e) when (e.SqlState == PostgresErrorCodes.InsufficientPrivilege)
        {
            throw new TenantIsolationException(
                $"""
                Practices are kept apart inside the database by a role of their own, and this login may not make it.
                Let an administrator of the database run
                    create role {name} login nobypassrls noinherit password '…';
                and name it with ConnectionStrings__Member beside ConnectionStrings__Main.
                """,
                e
            );
        }
    }

    /// <summary>Connects as the member and looks whether tenant isolation holds for it.</summary>
    public static async Task Prove(NpgsqlConnectionStringBuilder member, CancellationToken ct)
    {
        await using var connection = await Open(member, ct);
        const string Passes =
            "select rolsuper or rolbypassrls or exists (select 1 from pg_class c where c.relnamespace = 'history'::regnamespace and "
            + "pg_has_role(c.relowner, 'usage')) from pg_roles where rolname = current_user";
        if (await TenantIsolation.Scalar(connection, Passes, ct) is not false)
            throw new TenantIsolationException(
                $"The role {member.Username} owns tables or may pass row-level security: practices would not be kept apart. Name another "
                    + $"with ConnectionStrings__Member."
            );
    }

    private static async Task<NpgsqlConnection> Open(NpgsqlConnectionStringBuilder member, CancellationToken ct)
    {
        var connection = new NpgsqlConnection(
            new NpgsqlConnectionStringBuilder(member.ConnectionString) { Pooling = false }.ConnectionString
        );
        try
        {
            await connection.OpenAsync(ct);
            return connection;
        }
        catch (NpgsqlException e)
        {
            await connection.DisposeAsync();
            throw new TenantIsolationException(
                $"The role {member.Username}, as which practices are served, cannot connect: {e.Message}",
                e
            );
        }
    }

    private static async Task<bool> Refused(NpgsqlConnectionStringBuilder member, CancellationToken ct)
    {
        try
        {
            await using var connection = await Open(member, ct);
            return false;
        }
        catch (TenantIsolationException e)
            when (e.InnerException
                    is PostgresException
                    {
                        SqlState: PostgresErrorCodes.InvalidPassword or PostgresErrorCodes.InvalidAuthorizationSpecification
                    }
            )
        {
            return true;
        }
    }
}
