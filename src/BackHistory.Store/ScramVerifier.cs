using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace BackHistory.Store;

/// <summary>A password in the form in which PostgreSQL keeps it (RFC 5802, RFC 7677), so that the password itself never stands in a
/// statement or a log.</summary>
internal static class ScramVerifier
{
    private const int Rounds = 4096;

    public static string VerifierFor(string password)
    {
        var salt = RandomNumberGenerator.GetBytes(16);
        var salted = Rfc2898DeriveBytes.Pbkdf2(password, salt, Rounds, HashAlgorithmName.SHA256, 32);
        var stored = SHA256.HashData(HMACSHA256.HashData(salted, Encoding.ASCII.GetBytes("Client Key")));
        var server = HMACSHA256.HashData(salted, Encoding.ASCII.GetBytes("Server Key"));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"SCRAM-SHA-256${Rounds}:{Convert.ToBase64String(salt)}${Convert.ToBase64String(stored)}:{Convert.ToBase64String(server)}"
        );
    }
}
