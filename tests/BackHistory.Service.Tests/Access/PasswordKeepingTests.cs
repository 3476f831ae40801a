using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Service.Tests.Access;

/// <summary>How passwords and recovery codes lie in the database, read from the database and worked out once more by other means than the
/// service's.</summary>
public sealed class PasswordKeepingTests(RunningService service)
{
    private const int FewestRounds = 210_000;

    [Fact]
    [Trait("source", "OWASP password storage cheat sheet: PBKDF2 with HMAC-SHA-512, 210 000 rounds; from memory")]
    public async Task A_password_lies_in_the_database_as_a_slow_hash_with_a_salt_of_its_own()
    {
        var members = new[]
        {
            await service.Member("Kept One", (RunningService.Mine, PracticeRole.Fitter)),
            await service.Member("Kept Two", (RunningService.Mine, PracticeRole.Fitter)),
        };
        var salts = new HashSet<string>(StringComparer.Ordinal);
        var hashes = new HashSet<string>(StringComparer.Ordinal);
        foreach (var member in members)
        {
            var stored = await Stored(member.AccountId);
            Assert.DoesNotContain(RunningService.Password, stored, StringComparison.OrdinalIgnoreCase);
            var hash = Convert.FromBase64String(
                System.Text.Json.JsonDocument.Parse(stored).RootElement.GetProperty("passwordHash").GetString()!
            );
            // The framework's third form: mark, function (2 is HMAC-SHA-512), rounds, length of the salt, salt, key.
            Assert.Equal((1, 2u), (hash[0], BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(1))));
            var (rounds, length) = (
                (int)BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(5)),
                (int)BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(9))
            );
            var (salt, key) = (hash[13..(13 + length)], hash[(13 + length)..]);
            Assert.True(rounds >= FewestRounds, $"only {rounds} rounds");
            Assert.True(salt.Length >= 16 && key.Length >= 32, $"a salt of {salt.Length} bytes, a key of {key.Length}");
            Assert.Equal(Rfc2898DeriveBytes.Pbkdf2(RunningService.Password, salt, rounds, HashAlgorithmName.SHA512, key.Length), key);
            salts.Add(Convert.ToHexString(salt));
            hashes.Add(Convert.ToHexString(key));
        }

        // The same password of two people is two hashes.
        Assert.Equal((2, 2), (salts.Count, hashes.Count));
    }

    [Fact]
    public async Task A_hash_of_fewer_rounds_is_made_anew_when_its_owner_signs_in()
    {
        var member = await service.Member("Old Hash", (RunningService.Mine, PracticeRole.Fitter));
        var accounts = service.Services.GetRequiredService<AccountDocuments>();
        var old = new PasswordHasher<Account>(
            Microsoft.Extensions.Options.Options.Create(new PasswordHasherOptions { IterationCount = 10_000 })
        ).HashPassword(new Account(), RunningService.Password);
        await accounts.Change(member.AccountId, a => a.PasswordHash = old, CancellationToken.None);
        using var browser = await service.SignedIn(member);
        var hash = Convert.FromBase64String((await accounts.Load(member.AccountId, CancellationToken.None))!.PasswordHash!);
        Assert.True(BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(5)) >= FewestRounds);
        // It is the same password, and signs in again.
        using var again = await service.SignedIn(member);
        Assert.Equal(System.Net.HttpStatusCode.OK, (await again.Get("/api/horses")).StatusCode);
    }

    [Fact]
    public async Task Recovery_codes_and_the_apps_secret_lie_in_no_form_in_which_they_could_be_used()
    {
        var member = await service.Member("Kept Codes", (RunningService.Mine, PracticeRole.Fitter));
        using var scope = service.Services.CreateScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var account = (await users.FindByIdAsync(member.AccountId.ToString()))!;
        Assert.True((await users.ResetAuthenticatorKeyAsync(account)).Succeeded);
        var codes = (await users.GenerateNewTwoFactorRecoveryCodesAsync(account, 10))!.ToList();
        var secret = (await users.GetAuthenticatorKeyAsync(account))!;

        var stored = await Stored(member.AccountId);
        foreach (var word in codes.Append(secret))
        {
            foreach (
                var form in new[]
                {
                    word,
                    word.Replace("-", "", StringComparison.Ordinal),
                    Convert.ToBase64String(Encoding.UTF8.GetBytes(word)),
                    Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(word))),
                }
            )
                Assert.DoesNotContain(form, stored, StringComparison.OrdinalIgnoreCase);
        }

        var kept = (await service.Services.GetRequiredService<AccountDocuments>().Load(member.AccountId, CancellationToken.None))!;
        var salt = Convert.FromBase64String(kept.RecoverySalt!);
        Assert.True(salt.Length >= 16);
        Assert.Equal(10, kept.RecoveryCodes.Distinct(StringComparer.Ordinal).Count());
        Assert.Contains(
            Convert.ToBase64String(
                Rfc2898DeriveBytes.Pbkdf2(codes[0].ToUpperInvariant(), salt, FewestRounds, HashAlgorithmName.SHA512, 32)
            ),
            kept.RecoveryCodes
        );
    }

    private async Task<string> Stored(Guid account)
    {
        await using var command = service.Database().CreateCommand("select data::text from history.mt_doc_account where id = $1");
        command.Parameters.Add(new Npgsql.NpgsqlParameter { Value = account });
        return (string)(await command.ExecuteScalarAsync())!;
    }
}
