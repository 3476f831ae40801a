using BackHistory.Application.Access;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Configuration;

namespace BackHistory.Service;

/// <summary>
/// <c>recover-account PRACTICE EMAIL</c>: the way back for whoever lost telephone and codes, the sole administrator too. It prints a link
/// to a new password, and the practice's audit says that it was done.
/// </summary>
public static class RecoverAccountVerb
{
    public const string Verb = "recover-account";
    private const int WrongCall = 2;

    public static async Task<int> Run(string[] args, TextWriter output, TextWriter error)
    {
        if (args is not [_, var practice, var email] || string.IsNullOrWhiteSpace(practice) || string.IsNullOrWhiteSpace(email))
        {
            await error.WriteLineAsync(
                $"usage: {Verb} PRACTICE-NAME EMAIL   for example: {Verb} \"My practice\" you@example.org\n"
                    + "Ends the password, codes, passkeys, sign-in services, sessions and keys of that account and prints a link to a "
                    + "new password."
            );
            return WrongCall;
        }

        var settings = Settings.FromEnvironment(new ConfigurationBuilder().AddEnvironmentVariables().Build());
        // A mistyped folder would be filled with a new, empty database.
        if (settings.Database is null && !Directory.Exists(settings.State))
        {
            await error.WriteLineAsync(
                $"There is no state folder at {settings.State}. Set BACKHISTORY_STATE to that of the service; nothing was changed."
            );
            return 1;
        }

        return await OnThisMachine.Do(
            async services =>
            {
                var recover = services.GetRequiredService<RecoverAccount>();
                var (done, refused) = await recover.Do(new RecoverAccount.Input(practice.Trim(), email.Trim()), default);
                if (done is null)
                {
                    await error.WriteLineAsync(refused!.Message);
                    return 1;
                }

                await output.WriteLineAsync(
                    $"{done.Account.Email} is signed out everywhere; their password, codes, passkeys and sign-in services are gone. "
                        + $"{Counted(done.Sessions, "session", "sessions")} and {Counted(done.Keys, "key", "keys")} of programs ended: "
                        + "programs that used one stand still until they get a new key. Open this "
                        + "within an hour, on this computer or any that reaches the service, choose a password, sign in, and set up a new "
                        + $"app or passkey:\n{services.GetRequiredService<AccountLinks>().NewPassword(done.Account)}"
                );
                return 0;
            },
            error
        );
    }

    private static string Counted(int number, string one, string many) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{number} {(number == 1 ? one : many)}");
}
