using BackHistory.Application.Registration;
using BackHistory.Service.Access;
using BackHistory.Store.Setup;
using Scalar.AspNetCore;

namespace BackHistory.Service.Web;

/// <summary>The HTTP interface: its JSON, its description and its reference page.</summary>
public static class ApiSetup
{
    public static IServiceCollection AddApi(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(o =>
        {
            foreach (var converter in StoreSetup.ConfiguredJson().Converters)
                o.SerializerOptions.Converters.Add(converter);
        });
        services.AddProblemDetails();
        services.AddActs();
        services.AddSingleton<CommandRunner>();
        services.AddSingleton<PageForms>();
        services.AddOpenApi(
            "v1",
            o =>
                o.AddDocumentTransformer(
                    (document, _, _) =>
                    {
                        document.Info.Title = "BackHistory";
                        document.Info.Description =
                            "Every writing request carries Idempotency-Key and, where it changes something that exists, If-Match with "
                            + "the ETag that was seen (or *). "
                            + "Refusals are problem details whose `code` is stable. Lengths are millimetres, angles degrees, areas cm², "
                            + "masses kilograms.";
                        return Task.CompletedTask;
                    }
                )
        );
        return services;
    }

    public static RouteGroupBuilder MapApi(this WebApplication app)
    {
        app.MapOpenApi("/api/openapi/{documentName}.json").RequireAuthorization(Policies.See);
        app.MapScalarApiReference(
                "/api/reference",
                o =>
                    o.WithTitle("BackHistory API")
                        .WithOpenApiRoutePattern("/api/openapi/{documentName}.json")
                        .DisableDefaultFonts()
                        .DisableAgent()
                        .DisableMcp()
                        .DisableTelemetry()
                        .HideDeveloperTools()
                        .HideClientButton()
            )
            .RequireAuthorization(Policies.See);
        return app.MapGroup("/api").AddEndpointFilter<RouteGroupBuilder, OfferedChoices>();
    }
}
