using BackHistory.Application.Access;
using BackHistory.Application.People;
using BackHistory.Service.Access;
using BackHistory.Service.Access.Letters;
using BackHistory.Service.Access.Me;
using BackHistory.Service.Access.Passwords;
using BackHistory.Service.Access.SignIn;
using BackHistory.Service.Configuration;
using BackHistory.Service.Store;
using BackHistory.Store.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service;

/// <summary>Who gets in, and how: a cookie for people, a key for programs.</summary>
public static class AccessSetup
{
    private const string Either = "Either";

    public static IServiceCollection AddAccess(this IServiceCollection services, Settings settings)
    {
        services.AddDataProtection().SetApplicationName("BackHistory").PersistKeysToFileSystem(KeyFolder(settings));
        services.AddHttpContextAccessor();
        services
            .AddIdentityCore<Account>(Rules)
            .AddUserStore<AccountStore>()
            .AddPasswordValidator<PasswordRules>()
            .AddClaimsPrincipalFactory<PracticeClaimsFactory>()
            .AddSignInManager<AccountSignIn>()
            // Of the framework's own only what is used: each of the others would ask the store for telephone numbers at every sign-in.
            .AddTokenProvider<DataProtectorTokenProvider<Account>>(TokenOptions.DefaultProvider)
            .AddTokenProvider<OneTimeCodes>(OneTimeCodes.Name);
        services.Configure<PasswordHasherOptions>(o => o.IterationCount = 210_000);
        services.Configure<IdentityPasskeyOptions>(o =>
        {
            o.ServerDomain = settings.PublicUrl?.Host;
            o.ResidentKeyRequirement = "required";
            o.UserVerificationRequirement = "required";
            // By the address people use, and not by what a request says of where it comes from: whoever collects answers on a false page
            // sends what they like.
            o.ValidateOrigin = asked =>
                ValueTask.FromResult(
                    !asked.CrossOrigin && asked.Origin == $"{asked.HttpContext.Request.Scheme}://{asked.HttpContext.Request.Host}"
                );
        });
        services.AddScoped<SessionEvents>();
        services.AddSingleton<Guesses>();
        services.AddSingleton<CodeGuesses>();
        services.AddSingleton<PasskeyChallenges>();
        services.AddSingleton<AccountLinks>();
        services.AddSingleton<AccountPost>();
        services.AddSingleton<IAccountLetters>(s => s.GetRequiredService<AccountPost>());
        services.AddSingleton<ILetterFiles, Erasing.LetterFolder>();
        services.AddSingleton<AccountLetterJob>();
        services.AddSingleton<FlashCodes>();
        services.AddSingleton<IAuthorizationHandler, FreshHandler>();
        services.AddSingleton<IAuthorizationHandler, OperateHandler>();
        services.AddSignInCookies(settings);
        services.AddAuthorizationBuilder().AddPracticePolicies(settings.Access.SecondFactor);
        services.AddCascadingAuthenticationState();
        return services;
    }

    /// <summary>Whoever reads these keys can make sessions and links: they are the service's alone.</summary>
    private static DirectoryInfo KeyFolder(Settings settings)
    {
        var folder = ClosedFiles.NewFolder(Path.Combine(settings.State, "keys"));
        if (!OperatingSystem.IsWindows())
            folder.UnixFileMode = ClosedFiles.Folder;
        return folder;
    }

    private static void Rules(IdentityOptions o)
    {
        // What a password must be is said once, in PasswordRules.
        o.Password.RequiredLength = o.Password.RequiredUniqueChars = 1;
        o.Password.RequireDigit = o.Password.RequireLowercase = o.Password.RequireUppercase = o.Password.RequireNonAlphanumeric = false;
        o.Lockout.MaxFailedAccessAttempts = 6;
        o.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(15);
        o.User.RequireUniqueEmail = true;
        // An address is an address; letters of every script are in some.
        o.User.AllowedUserNameCharacters = "";
        o.Tokens.AuthenticatorTokenProvider = OneTimeCodes.Name;
    }

    private static void AddSignInCookies(this IServiceCollection services, Settings settings)
    {
        var safe = settings.PublicUrl?.Scheme == Uri.UriSchemeHttps;
        void Close(CookieBuilder cookie, string name)
        {
            // A cookie of this name comes from this very host over https, and browsers see to it.
            cookie.Name = safe ? $"__Host-{name}" : name;
            cookie.HttpOnly = true;
            cookie.SameSite = SameSiteMode.Lax;
            cookie.SecurePolicy = safe ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
        }

        services
            .AddAuthentication(o => o.DefaultScheme = Either)
            .AddPolicyScheme(
                Either,
                Either,
                o =>
                    o.ForwardDefaultSelector = http =>
                        http.Request.Headers.Authorization.Count > 0 ? AccessKeyHandler.SchemeName : IdentityConstants.ApplicationScheme
            )
            .AddScheme<AuthenticationSchemeOptions, AccessKeyHandler>(AccessKeyHandler.SchemeName, null)
            .AddCookie(
                IdentityConstants.ApplicationScheme,
                o =>
                {
                    Close(o.Cookie, "backhistory");
                    o.ExpireTimeSpan = SignInSession.Idle;
                    o.SlidingExpiration = true;
                    o.LoginPath = "/sign-in";
                    o.AccessDeniedPath = "/not-yours";
                    o.ReturnUrlParameter = "returnUrl";
                    o.EventsType = typeof(SessionEvents);
                }
            )
            .AddCookie(IdentityConstants.ExternalScheme, o => Short(o, "backhistory-elsewhere"))
            .AddCookie(IdentityConstants.TwoFactorUserIdScheme, o => Short(o, "backhistory-half"))
            .AddCookie(
                IdentityConstants.TwoFactorRememberMeScheme,
                o =>
                {
                    Close(o.Cookie, "backhistory-device");
                    o.ExpireTimeSpan = SignInSession.Idle;
                    o.Events.OnValidatePrincipal = SecurityStampValidator.ValidateAsync<ITwoFactorSecurityStampValidator>;
                }
            )
            .AddProviders(settings.Access);

        void Short(CookieAuthenticationOptions o, string name)
        {
            Close(o.Cookie, name);
            o.ExpireTimeSpan = TimeSpan.FromMinutes(10);
        }
    }
}
