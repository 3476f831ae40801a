using System.Buffers.Binary;
using System.Buffers.Text;
using System.Formats.Cbor;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace BackHistory.Service.Tests.Access;

/// <summary>
/// What a telephone does with a passkey (W3C Web Authentication level 2): makes a key on the curve P-256, shows its public half without
/// an attestation, and signs challenges. What an honest device never does can be asked for too.
/// </summary>
internal sealed class SoftAuthenticator : IDisposable
{
    private const byte UserPresent = 0x01;
    private const byte UserVerified = 0x04;
    private const byte CarriesCredential = 0x40;
    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    /// <summary>Chosen by the device; a second device can claim the same.</summary>
    public byte[] CredentialId { get; init; } = RandomNumberGenerator.GetBytes(32);

    /// <summary>Of the account for which it was made; sent back with every answer.</summary>
    public byte[] UserHandle { get; set; } = [];

    /// <summary>Raised with every use; 0 throughout where the device does not count.</summary>
    public uint Counter { get; set; }

    /// <summary>The device asked its owner for a finger, a face or a PIN.</summary>
    public bool Verifies { get; init; } = true;

    /// <summary>Answers <c>navigator.credentials.create</c>.</summary>
    /// <param name="options">As the service gave them.</param>
    /// <param name="origin">The page that asked, as the browser saw it.</param>
    public string Create(JsonElement options, string origin)
    {
        UserHandle = Base64Url.DecodeFromChars(options.GetProperty("user").GetProperty("id").GetString());
        var authenticator = AuthenticatorData(
            options.GetProperty("rp").GetProperty("id").GetString()!,
            CarriesCredential,
            [.. new byte[16], .. BigEndian((ushort)CredentialId.Length), .. CredentialId, .. PublicKey()]
        );
        var cbor = new CborWriter(CborConformanceMode.Ctap2Canonical);
        cbor.WriteStartMap(3);
        cbor.WriteTextString("fmt");
        cbor.WriteTextString("none");
        cbor.WriteTextString("attStmt");
        cbor.WriteStartMap(0);
        cbor.WriteEndMap();
        cbor.WriteTextString("authData");
        cbor.WriteByteString(authenticator);
        cbor.WriteEndMap();
        return Credential(
            new Dictionary<string, object?>(StringComparer.Ordinal)
            {
                ["clientDataJSON"] = Base64Url.EncodeToString(ClientData("webauthn.create", ChallengeOf(options), origin)),
                ["attestationObject"] = Base64Url.EncodeToString(cbor.Encode()),
                ["transports"] = new[] { "internal" },
            }
        );
    }

    /// <summary>Answers <c>navigator.credentials.get</c>.</summary>
    /// <param name="domain">Whose passkey the browser asked the device for; the service's own where nothing is said.</param>
    /// <param name="change">What somebody on the way does to the signature.</param>
    public string Get(JsonElement options, string origin, string? domain = null, Action<byte[]>? change = null)
    {
        if (Counter > 0)
            Counter++;
        var authenticator = AuthenticatorData(domain ?? options.GetProperty("rpId").GetString()!, 0, []);
        var client = ClientData("webauthn.get", ChallengeOf(options), origin);
        var signature = _key.SignData(
            [.. authenticator, .. SHA256.HashData(client)],
            HashAlgorithmName.SHA256,
            DSASignatureFormat.Rfc3279DerSequence
        );
        change?.Invoke(signature);
        return Credential(
            new Dictionary<string, object?>(StringComparer.Ordinal)
            {
                ["clientDataJSON"] = Base64Url.EncodeToString(client),
                ["authenticatorData"] = Base64Url.EncodeToString(authenticator),
                ["signature"] = Base64Url.EncodeToString(signature),
                ["userHandle"] = Base64Url.EncodeToString(UserHandle),
            }
        );
    }

    public void Dispose() => _key.Dispose();

    private static string ChallengeOf(JsonElement options) => options.GetProperty("challenge").GetString()!;

    private static byte[] ClientData(string type, string challenge, string origin) =>
        JsonSerializer.SerializeToUtf8Bytes(
            new
            {
                type,
                challenge,
                origin,
                crossOrigin = false,
            }
        );

    private string Credential(Dictionary<string, object?> response) =>
        JsonSerializer.Serialize(
            new
            {
                id = Base64Url.EncodeToString(CredentialId),
                rawId = Base64Url.EncodeToString(CredentialId),
                type = "public-key",
                authenticatorAttachment = "platform",
                clientExtensionResults = new { },
                response,
            }
        );

    /// <summary>Section 6.1: the domain's hash, what the device did, its counter, and the credential where one is made.</summary>
    private byte[] AuthenticatorData(string domain, byte more, byte[] credential)
    {
        var counter = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(counter, Counter);
        return
        [
            .. SHA256.HashData(Encoding.UTF8.GetBytes(domain)),
            (byte)(UserPresent | (Verifies ? UserVerified : 0) | more),
            .. counter,
            .. credential,
        ];
    }

    /// <summary>A COSE key (RFC 9053, 7.1): EC2, ES256, P-256, x, y.</summary>
    private byte[] PublicKey()
    {
        var point = _key.ExportParameters(false).Q;
        var cbor = new CborWriter(CborConformanceMode.Ctap2Canonical);
        cbor.WriteStartMap(5);
        foreach (var (label, value) in new[] { (1, 2), (3, -7), (-1, 1) })
        {
            cbor.WriteInt32(label);
            cbor.WriteInt32(value);
        }

        cbor.WriteInt32(-2);
        cbor.WriteByteString(point.X!);
        cbor.WriteInt32(-3);
        cbor.WriteByteString(point.Y!);
        cbor.WriteEndMap();
        return cbor.Encode();
    }

    private static byte[] BigEndian(ushort value) => [(byte)(value >> 8), (byte)value];
}
