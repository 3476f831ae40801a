namespace BackHistory.Service.Configuration;

/// <summary>How often is often: a hand never reaches these, a script does.</summary>
/// <param name="Guesses">Attempts at signing in, recovering or codes from one address in a minute, and for one account in a quarter of an
/// hour.</param>
/// <param name="PersonPerMinute">Requests of one signed-in person or one key.</param>
/// <param name="AddressPerMinute">Requests of one address that nobody is signed in from.</param>
public sealed record AccessLimits(int Guesses = 20, int PersonPerMinute = 1200, int AddressPerMinute = 300);
