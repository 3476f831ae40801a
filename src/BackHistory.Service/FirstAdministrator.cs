using BackHistory.Application.Access;
using BackHistory.History;
using BackHistory.History.Practices;
using BackHistory.Service.Access.Letters;

namespace BackHistory.Service;

/// <summary>
/// <c>first-administrator EMAIL PRACTICE [TIME-ZONE]</c>: founds a practice and prints the one link that lets its first administrator in.
/// There is no default password anywhere; whoever can run this on the machine is who the installation belongs to.
/// </summary>
public static class FirstAdministrator
{
    public const string Verb = "first-administrator";
    private const int WrongCall = 2;

    public static async Task<int> Run(string[] args, TextWriter output, TextWriter error)
    {
        if (
            args is not [_, var email, var name, ..]
            || args.Length > 4
            || !EmailAddress.TryParse(email, out var address)
            || address.Value != email
        )
        {
            await error.WriteLineAsync(
                $"usage: {Verb} EMAIL PRACTICE-NAME [TIME-ZONE]   for example: {Verb} you@example.org \"My practice\" Europe/Berlin"
            );
            return WrongCall;
        }

        return await OnThisMachine.Do(
            async services =>
            {
                var (link, refused) = await Found(services, email, name.Trim(), args.Length == 4 ? args[3] : "Etc/UTC", default);
                if (refused is not null)
                {
                    await error.WriteLineAsync(refused.Message);
                    return 1;
                }

                await output.WriteLineAsync(
                    $"Open this within a day, on this computer or any that reaches the service, and choose a password:\n{link}"
                );
                return 0;
            },
            error
        );
    }

    /// <summary>Founds the practice, or goes on where an earlier run stopped before anybody came.</summary>
    internal static async Task<(string? Link, Refused? Refused)> Found(
        IServiceProvider services,
        string email,
        string name,
        string timeZone,
        CancellationToken ct
    )
    {
        var open = services.GetRequiredService<OpenPractice>();
        var (invitation, refused) = await open.Do(new OpenPractice.Input(Guid.NewGuid(), email, name, timeZone), ct);
        return (invitation is null ? null : services.GetRequiredService<AccountLinks>().Accept(invitation), refused);
    }
}
