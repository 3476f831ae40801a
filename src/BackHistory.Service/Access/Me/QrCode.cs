using QRCoder;

namespace BackHistory.Service.Access.Me;

/// <summary>What an authenticator app scans.</summary>
internal static class QrCode
{
    /// <summary>The form that authenticator apps agree on (Key Uri Format).</summary>
    public static string AuthenticatorUri(string email, string secret) =>
        $"otpauth://totp/BackHistory:{Uri.EscapeDataString(email)}?secret={secret}&issuer=BackHistory&digits=6&period=30";

    /// <summary>Dark on light in every theme: cameras expect it. Paths only, no style and no script.</summary>
    public static string Svg(string text)
    {
        using var generator = new QRCodeGenerator();
        using var data = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var modules = data.ModuleMatrix;
        var path = new System.Text.StringBuilder();
        for (var y = 0; y < modules.Count; y++)
        {
            for (var x = 0; x < modules[y].Count; x++)
            {
                if (modules[y][x])
                    path.Append(System.Globalization.CultureInfo.InvariantCulture, $"M{x} {y}h1v1h-1z");
            }
        }

        return $"<svg viewBox=\"0 0 {modules.Count} {modules.Count}\" role=\"img\" aria-label=\"The secret as a picture for the app\" "
            + $"shape-rendering=\"crispEdges\"><rect width=\"{modules.Count}\" height=\"{modules.Count}\" fill=\"#fff\"/><path "
            + $"d=\"{path}\" fill=\"#000\"/></svg>";
    }
}
