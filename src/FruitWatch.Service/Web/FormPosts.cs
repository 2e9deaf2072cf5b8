using FruitWatch.Store;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.DataProtection;

namespace FruitWatch.Service.Web;

/// <summary>Forms: the token that shows that they came from our own pages, and where they lead back to.</summary>
internal static class FormPosts
{
    public static void AddFormProtection(this IServiceCollection services)
    {
        services.AddAntiforgery(options =>
        {
            options.Cookie.Name = "form";
            options.Cookie.SameSite = SameSiteMode.Strict;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            options.FormFieldName = "form-token";
        });

        // In the store, so that several servers share them, and a page opened before a restart can still be sent after it.
        services.AddDataProtection().SetApplicationName("FruitWatch").PersistKeysToDbContext<FruitWatchStore>();
    }

    /// <summary>A posted form, or null where its token is missing, old or not ours.</summary>
    public static async Task<IFormCollection?> ReadAsync(HttpContext context)
    {
        if (!context.Request.HasFormContentType
            || !await context.RequestServices.GetRequiredService<IAntiforgery>().IsRequestValidAsync(context))
            return null;
        return await context.Request.ReadFormAsync(context.RequestAborted);
    }

    /// <summary>Back to a page of ours; to the first one where the address leads elsewhere.</summary>
    public static IResult BackTo(string? address) =>
        Results.LocalRedirect(Own(address));

    /// <summary>An address of ours as it is; the first page for any other.</summary>
    public static string Own(string? address) => IsOwn(address) ? address! : "/";

    private static bool IsOwn(string? address) =>
        address is ['/', ..] && address is not ['/', '/' or '\\', ..] && !address.Any(char.IsControl);
}
