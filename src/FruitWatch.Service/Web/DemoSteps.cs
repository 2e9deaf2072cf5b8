using FruitWatch.Service.Access;

namespace FruitWatch.Service.Web;

/// <summary>Moves an invented cooperative on by mornings. Registered by the demo only; the pages show its bar where it is.</summary>
internal interface IDemoStepper
{
    /// <summary>The day that the demo has reached, in ISO form.</summary>
    string Today { get; }

    /// <summary>Does the rounds of the next mornings, one after the other.</summary>
    Task StepAsync(int mornings);
}

/// <summary>The bar's buttons.</summary>
internal static class DemoSteps
{
    public static readonly IReadOnlyList<int> Offered = [1, 7, 30];

    public static void MapDemoSteps(this IEndpointRouteBuilder app)
    {
        if (app.ServiceProvider.GetService<IDemoStepper>() is not { } stepper)
            return;
        app.MapPost("/demo/step", async (HttpContext context) =>
        {
            var form = await FormPosts.ReadAsync(context);
            if (form is null || !int.TryParse(form["mornings"], out var mornings) || !Offered.Contains(mornings))
                return Results.BadRequest();
            await stepper.StepAsync(mornings);
            return FormPosts.BackTo(form["back"]);
        }).ForEverybody().ExcludeFromDescription();
    }
}
