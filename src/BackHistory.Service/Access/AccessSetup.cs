using BackHistory.History.Accounts;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;

namespace BackHistory.Service.Access;

/// <summary>Who gets in, and how: a cookie for people, a key for programs.</summary>
public static class AccessSetup
{
    private const string Either = "Either";

    public static IServiceCollection AddAccess(this IServiceCollection services, Settings settings)
    {
        services.AddDataProtection().SetApplicationName("BackHistory").PersistKeysToFileSystem(Directory.CreateDirectory(Path.Combine(settings.State, "keys")));
        services.AddHttpContextAccessor();
        services.AddIdentityCore<Account>(o =>
            {
                o.Password.RequiredLength = 12;
                o.Password.RequireDigit = o.Password.RequireLowercase = o.Password.RequireUppercase = o.Password.RequireNonAlphanumeric = false;
                o.Lockout.MaxFailedAccessAttempts = 6;
                o.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(15);
                o.User.RequireUniqueEmail = true;
            })
            .AddUserStore<AccountStore>()
            .AddClaimsPrincipalFactory<PracticeClaimsFactory>()
            .AddSignInManager()
            .AddDefaultTokenProviders();

        services.AddAuthentication(o => o.DefaultScheme = Either)
            .AddPolicyScheme(Either, Either, o => o.ForwardDefaultSelector = http =>
                http.Request.Headers.Authorization.Count > 0 ? AccessKeyHandler.SchemeName : IdentityConstants.ApplicationScheme)
            .AddScheme<AuthenticationSchemeOptions, AccessKeyHandler>(AccessKeyHandler.SchemeName, null)
            .AddCookie(IdentityConstants.ApplicationScheme, o =>
            {
                o.Cookie.Name = "backhistory";
                o.Cookie.HttpOnly = true;
                o.Cookie.SameSite = SameSiteMode.Lax;
                o.ExpireTimeSpan = TimeSpan.FromDays(14);
                o.SlidingExpiration = true;
                o.LoginPath = "/sign-in";
                o.AccessDeniedPath = "/not-yours";
                o.Events.OnRedirectToLogin = context => Turn(context, StatusCodes.Status401Unauthorized);
                o.Events.OnRedirectToAccessDenied = context => Turn(context, StatusCodes.Status403Forbidden);
                o.Events.OnValidatePrincipal = SecurityStampValidator.ValidatePrincipalAsync;
            })
            .AddCookie(IdentityConstants.ExternalScheme)
            .AddCookie(IdentityConstants.TwoFactorUserIdScheme);
        services.Configure<SecurityStampValidatorOptions>(o => o.ValidationInterval = TimeSpan.FromMinutes(1));
        services.AddAuthorizationBuilder().AddPracticePolicies();
        services.AddCascadingAuthenticationState();
        return services;
    }

    /// <summary>A program gets a status, a person gets the page.</summary>
    private static Task Turn(Microsoft.AspNetCore.Authentication.RedirectContext<Microsoft.AspNetCore.Authentication.Cookies.CookieAuthenticationOptions> context, int status)
    {
        if (context.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal)) context.Response.StatusCode = status;
        else context.Response.Redirect(context.RedirectUri);
        return Task.CompletedTask;
    }
}
