using System.Globalization;
using System.Net;
using AngleSharp.Dom;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>Somebody at a browser of their own, with cookies; sees where they are sent instead of going there.</summary>
internal sealed class Visit : IDisposable
{
    private readonly HttpClientHandler handler = new() { AllowAutoRedirect = false, CookieContainer = new CookieContainer() };

    public Visit(TestService service)
    {
        Browser = new HttpClient(handler) { BaseAddress = service.Address };
        Browser.DefaultRequestHeaders.Add("Accept-Language", "en");
    }

    public HttpClient Browser { get; }

    public CookieCollection Cookies => handler.CookieContainer.GetAllCookies();

    public async Task<HttpResponseMessage> SubmitAsync(string path, string form, params (string, string)[] filled)
    {
        var page = await Browser.OpenAsync(path);
        var found = page.QuerySelector(form) ?? throw new InvalidOperationException($"{path} has no {form}: {page.Body!.Read()}");
        return await Browser.SubmitAsync(found, filled);
    }

    public Task<HttpResponseMessage> SignInAsync(string email, string password, string path = "/sign-in") =>
        SubmitAsync(path, "form.card", ("email", email), ("password", password));

    /// <summary>Whether a page for members opens.</summary>
    public async Task<bool> IsInAsync()
    {
        using var answer = await Browser.GetAsync("/notices");
        return answer.StatusCode == HttpStatusCode.OK;
    }

    public async Task<IDocument> SignedInAsync(string email = Doors.Email, string password = Doors.Password)
    {
        using var answer = await SignInAsync(email, password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return await HtmlPage.ReadAsync(answer);
    }

    public void Dispose()
    {
        Browser.Dispose();
        handler.Dispose();
    }

    public static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
