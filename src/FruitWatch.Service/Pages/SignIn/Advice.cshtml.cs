using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>Said once at each sign-in to those who may change everything and show nothing but a password.</summary>
[Right(Right.OwnSignIn)]
internal sealed class AdviceModel : PageModel
{
    public string Back { get; private set; } = "/";

    public void OnGet(string? back) => Back = FormPosts.Own(back);
}
