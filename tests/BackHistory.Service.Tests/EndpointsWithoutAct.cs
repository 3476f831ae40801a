namespace BackHistory.Service.Tests;

/// <summary>Writing doors that reach no act of Application, or more than one, each list with its reason.</summary>
internal static class EndpointsWithoutAct
{
    private static readonly (string Reason, string[] Doors)[] Lists =
    [
        (
            "signing in and out, and what decides how one signs in: the host's own",
            [
                "POST /confirm-address/{token}",
                "POST /forgotten",
                "POST /me/address",
                "POST /me/passkeys",
                "POST /me/passkeys/options",
                "POST /me/passkeys/remove",
                "POST /me/password",
                "POST /me/second-factor/begin",
                "POST /me/second-factor/codes",
                "POST /me/second-factor/confirm",
                "POST /me/second-factor/off",
                "POST /me/sessions/end",
                "POST /me/sessions/end-others",
                "POST /me/sign-in-services/add",
                "POST /me/sign-in-services/remove",
                "POST /new-password/{token}",
                "POST /sign-in",
                "POST /sign-in/again",
                "POST /sign-in/code",
                "POST /sign-in/passkey",
                "POST /sign-in/passkey/options",
                "POST /sign-in/recovery-code",
                "POST /sign-in/with",
                "POST /sign-out",
            ]
        ),
        (
            "previews and checks: they answer and keep nothing",
            [
                "POST /api/contours/{format}",
                "POST /api/letter-templates/{kind}/{language}/preview",
                "POST /api/measure",
                "POST /practice/letters/{kind}/{language}/look",
            ]
        ),
        ("one's own account works in another of one's practices: a setting of the sign-in", ["POST /me/practice"]),
        (
            "a form whose buttons are several acts: which one is pressed stands in the form",
            ["POST /plan", "POST /reminders/{reminderId:guid}", "POST /letter/{token}"]
        ),
    ];

    public static IEnumerable<string> All => Lists.SelectMany(l => l.Doors);

    /// <param name="door">Verb and address.</param>
    public static string? Reason(string door) => Lists.FirstOrDefault(l => l.Doors.Contains(door, StringComparer.Ordinal)).Reason;
}
